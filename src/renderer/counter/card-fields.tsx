import { useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { Field, Tick } from '../pieces/field.tsx';
import { useRead } from '../session/use-read.ts';
import { moneyField, readMoney } from '../words/money.ts';
import { fromField, promiseChoices, toField } from '../words/time.ts';
import styles from './form-grid.module.css';
import type { IntakeDesk } from './use-intake.ts';

/** What goes on the card at check-in: promise, mileage, key tag, consent. All of it can wait. */
export function CardFields({ desk }: { desk: IntakeDesk }) {
  const { intake, setFields } = desk;
  const status = useRead('shop.status', {});
  const settings = useRead('shop.settings', {}, { stale: 60_000 });
  const currency = status.data?.currency ?? 'USD';
  const [upTo, setUpTo] = useState(moneyField(intake.diagnosisUpTo));
  return (
    <fieldset className={`${styles.grid} ${styles.card}`}>
      <legend className={styles.legend}>On the card</legend>
      <Field label="Promised for" wide>
        {(ids) => (
          <input
            {...ids}
            type="datetime-local"
            value={toField(intake.promiseAt)}
            onChange={(event) => setFields({ promiseAt: fromField(event.target.value) })}
          />
        )}
      </Field>
      <div className={styles.promises}>
        {promiseChoices().map(({ label, at }) => (
          <Button key={label} size="row" onClick={() => setFields({ promiseAt: at })}>
            {label}
          </Button>
        ))}
      </div>
      <Field label="Mileage, km">
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
      <Field label={`Diagnosis up to, ${currency}`}>
        {(ids) => (
          <input
            {...ids}
            inputMode="decimal"
            maxLength={12}
            placeholder="ask first"
            value={upTo}
            onChange={(event) => {
              setUpTo(event.target.value);
              setFields({ diagnosisUpTo: readMoney(event.target.value, currency) });
            }}
          />
        )}
      </Field>
      <Field label="Technician">
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
      <div className={styles.whole}>
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
      </div>
    </fieldset>
  );
}
