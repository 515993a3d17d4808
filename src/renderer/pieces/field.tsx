import { type ReactNode, useId } from 'react';
import styles from './field.module.css';

interface Props {
  label: string;
  hint?: ReactNode;
  wide?: boolean;
  /** Gets the ids to tie the label and the hint to the control. */
  children: (ids: { id: string; 'aria-describedby'?: string }) => ReactNode;
}

/** A labelled control with its hint. */
export function Field({ label, hint, wide = false, children }: Props) {
  const id = useId();
  return (
    <div className={`${styles.field} ${wide ? styles.wide : ''}`}>
      <label htmlFor={id}>{label}</label>
      {children(hint ? { id, 'aria-describedby': `${id}-hint` } : { id })}
      {hint ? (
        <p className={styles.hint} id={`${id}-hint`}>
          {hint}
        </p>
      ) : null}
    </div>
  );
}

interface ChoiceProps {
  label: string;
  isOn: boolean;
  onChange: (isOn: boolean) => void;
}

/** A yes-or-no line. */
export function Tick({ label, isOn, onChange }: ChoiceProps) {
  return (
    <label className={styles.tick}>
      <input type="checkbox" checked={isOn} onChange={(event) => onChange(event.target.checked)} />
      <span>{label}</span>
    </label>
  );
}
