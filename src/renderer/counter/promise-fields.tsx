import { Button } from '../pieces/button.tsx';
import { Field, Tick } from '../pieces/field.tsx';
import { useRead } from '../session/use-read.ts';
import { readMoney } from '../words/money.ts';
import { fromField, promiseChoices, toField } from '../words/time.ts';
import { slipsOf, slipWords } from './intake.ts';
import styles from './promise-fields.module.css';
import type { IntakeDesk } from './use-intake.ts';

/** What is agreed with the customer across the counter: when, up to how much, and what is allowed. Always in sight. */
export function PromiseFields({ desk }: { desk: IntakeDesk }) {
  const { intake, setFields } = desk;
  const status = useRead('shop.status', {});
  const currency = status.data?.currency ?? 'USD';
  return (
    <fieldset className={styles.fields} aria-label="Promise and consent">
      <div className={styles.promise}>
        <Field label="Promised for">
          {(ids) => (
            <input
              {...ids}
              type="datetime-local"
              value={toField(intake.promiseAt)}
              onChange={(event) => setFields({ promiseAt: fromField(event.target.value) })}
            />
          )}
        </Field>
        {promiseChoices().map(({ label, at }) => (
          <Button key={label} onClick={() => setFields({ promiseAt: at })}>
            {label}
          </Button>
        ))}
      </div>
      <div className={styles.limit}>
        <Field
          label={`Diagnosis up to, ${currency}`}
          hint={slipsOf(intake).includes('upTo') ? slipWords.upTo : undefined}
        >
          {(ids) => (
            <input
              {...ids}
              inputMode="decimal"
              maxLength={12}
              placeholder="ask first"
              value={intake.upTo}
              onChange={(event) =>
                setFields({
                  upTo: event.target.value,
                  diagnosisUpTo: readMoney(event.target.value, currency),
                })
              }
            />
          )}
        </Field>
      </div>
      <Tick
        label="Test ride is fine"
        isOn={intake.testRide}
        onChange={(testRide) => setFields({ testRide })}
      />
      <Tick
        label="Wants the old parts back"
        isOn={intake.oldPartsBack}
        onChange={(oldPartsBack) => setFields({ oldPartsBack })}
      />
    </fieldset>
  );
}
