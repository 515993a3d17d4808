import type { ReactNode } from 'react';
import styles from './choice-list.module.css';
import type { Choice } from './use-choices.ts';

interface Props {
  id: string;
  label: string;
  choices: readonly Choice[];
  activeId: string | undefined;
  show: (choice: Choice) => ReactNode;
  onTake: (choice: Choice) => void;
}

/** One side of what was found; the field above steers it. */
export function ChoiceList({ id, label, choices, activeId, show, onTake }: Props) {
  return (
    <div id={id} role="listbox" aria-label={label} className={styles.list}>
      {choices.map((choice) => (
        // biome-ignore lint/a11y/useKeyWithClickEvents: the field keeps the focus and takes the keys for the options
        <div
          key={choice.id}
          id={choice.id}
          role="option"
          tabIndex={-1}
          aria-selected={choice.id === activeId}
          className={styles.choice}
          onClick={() => onTake(choice)}
        >
          {show(choice)}
        </div>
      ))}
    </div>
  );
}

export function ChoiceWords({ title, detail }: { title: ReactNode; detail?: ReactNode }) {
  return (
    <>
      <span className={styles.title}>{title}</span>
      {detail ? <span className={styles.detail}>{detail}</span> : null}
    </>
  );
}
