import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import styles from './parts.module.css';

interface Props {
  value: string;
  onChange: (frame: string) => void;
  /** A model year that the number can mean was picked. */
  onYear: (year: number) => void;
}

/** A VIN or frame number as read off the machine, with what it says and what is odd about it. */
export function FrameField({ value, onChange, onYear }: Props) {
  const asked = useDelayed(value.trim(), 250);
  const read = useRead('vehicles.decode', asked === '' ? null : { vin: asked }, { keep: true });
  const known = value.trim() === '' ? undefined : read.data;
  const isWholeVin = known?.kind === 'vin';
  const says = known
    ? isWholeVin || known.vin.length === 17
      ? known.notes.join('. ')
      : 'Read as a frame number.'
    : '';
  return (
    <div className={styles.wide}>
      <Field label="VIN or frame number" hint={says === '' ? undefined : says}>
        {(ids) => (
          <input
            {...ids}
            value={value}
            maxLength={30}
            autoComplete="off"
            spellCheck={false}
            onChange={(event) => onChange(event.target.value)}
          />
        )}
      </Field>
      {known && known.years.length > 0 ? (
        <p className={styles.line}>
          <span className={styles.soft}>Model year by its code:</span>
          {known.years.map((year) => (
            <Button key={year} size="row" onClick={() => onYear(year)}>
              {year}
            </Button>
          ))}
        </p>
      ) : null}
    </div>
  );
}
