import { Field } from '../pieces/field.tsx';
import { useRead } from '../session/use-read.ts';
import styles from './form-grid.module.css';
import { slipsOf, slipWords } from './intake.ts';
import type { IntakeDesk } from './use-intake.ts';

/** What goes on the card at check-in beside the promise: mileage, key tag, technician. All of it can wait. */
export function CardFields({ desk }: { desk: IntakeDesk }) {
  const { intake, setFields } = desk;
  const settings = useRead('shop.settings', {}, { stale: 60_000 });
  return (
    <fieldset className={`${styles.grid} ${styles.card}`} aria-label="On the card">
      <Field label="Mileage, km" hint={slipsOf(intake).includes('mileage') ? slipWords.mileage : undefined}>
        {(ids) => (
          <input
            {...ids}
            inputMode="numeric"
            maxLength={9}
            value={intake.mileage}
            onChange={(event) => setFields({ mileage: event.target.value })}
          />
        )}
      </Field>
      <Field label="Key tag">
        {(ids) => (
          <input
            {...ids}
            maxLength={20}
            value={intake.keyTag}
            onChange={(event) => setFields({ keyTag: event.target.value })}
          />
        )}
      </Field>
      <Field label="Technician" wide>
        {(ids) => (
          <>
            <input
              {...ids}
              list="technicians"
              maxLength={60}
              value={intake.technician}
              onChange={(event) => setFields({ technician: event.target.value })}
            />
            <datalist id="technicians">
              {settings.data?.technicians.map((name) => (
                <option key={name} value={name} />
              ))}
            </datalist>
          </>
        )}
      </Field>
    </fieldset>
  );
}
