import { useState } from 'react';
import type { QuoteSettings } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useWrite } from '../session/use-write.ts';
import { moneyField, readMoney } from '../words/money.ts';
import styles from './settings-page.module.css';
import { TaxRates } from './tax-rates.tsx';

const changes = ['quotes.terms'] as const;

const roundings = [
  ['half-away', 'to the nearest, halves up'],
  ['half-even', 'to the nearest, halves to even'],
  ['down', 'always down'],
  ['up', 'always up'],
] as const;

interface Texts extends Omit<QuoteSettings, 'cashStep' | 'validDays'> {
  readonly cash: string;
  readonly days: string;
}

const textsOf = ({ cashStep, validDays, ...rest }: QuoteSettings, currency: string): Texts => ({
  ...rest,
  cash: cashStep === null ? '' : moneyField({ amount: cashStep, currency }),
  days: String(validDays),
});

/** How quotes are taxed, rounded and printed. */
export function QuoteRules({ terms, currency }: { terms: QuoteSettings; currency: string }) {
  const [texts, setTexts] = useState(() => textsOf(terms, currency));
  const [fault, setFault] = useState('');
  const save = useWrite('quotes.terms', changes);
  const set = (next: Partial<Texts>): void => setTexts((before) => ({ ...before, ...next }));
  const send = async (): Promise<void> => {
    const { cash, days, ...rest } = texts;
    const step = cash.trim() === '' ? null : readMoney(cash, currency);
    if (cash.trim() !== '' && (step === null || step.amount === 0)) {
      setFault(`“${cash}” is no coin of ${currency}; write its worth, such as 0.05, or leave it empty.`);
      return;
    }
    setFault('');
    const kept = await save.run({
      set: {
        ...rest,
        taxRates: rest.taxRates.map((rate) => ({ ...rate, percent: rate.percent.trim().replace(',', '.') })),
        cashStep: step?.amount ?? null,
        validDays: Number(days),
      },
    });
    if (!kept) return;
    setTexts(textsOf(kept, currency));
    say('Saved. Quotes that are handed out stay as they are.', {
      label: 'Undo',
      run: () => void save.run({ set: terms }),
    });
  };
  return (
    <form
      className={styles.form}
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      <TaxRates
        rates={texts.taxRates}
        usual={texts.usualTaxRateId}
        onChange={(taxRates, usualTaxRateId) => set({ taxRates: [...taxRates], usualTaxRateId })}
      />
      <Field label="Tax is rounded">
        {(ids) => (
          <select
            {...ids}
            value={texts.taxPer}
            onChange={(event) => set({ taxPer: event.target.value as Texts['taxPer'] })}
          >
            <option value="document">once for the whole quote</option>
            <option value="line">on every line</option>
          </select>
        )}
      </Field>
      <Field label="and how">
        {(ids) => (
          <select
            {...ids}
            value={texts.taxRounding}
            onChange={(event) => set({ taxRounding: event.target.value as Texts['taxRounding'] })}
          >
            {roundings.map(([rounding, words]) => (
              <option key={rounding} value={rounding}>
                {words}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field
        label={`Smallest coin in cash, ${currency}`}
        hint="Only a cash total is rounded to it. Left empty: every coin is in use."
      >
        {(ids) => (
          <input
            {...ids}
            inputMode="decimal"
            maxLength={10}
            value={texts.cash}
            onChange={(event) => set({ cash: event.target.value })}
          />
        )}
      </Field>
      <Field label="A quote holds, days">
        {(ids) => (
          <input
            {...ids}
            inputMode="numeric"
            maxLength={3}
            value={texts.days}
            onChange={(event) => set({ days: event.target.value })}
          />
        )}
      </Field>
      <Field label="Paper">
        {(ids) => (
          <select
            {...ids}
            value={texts.paper}
            onChange={(event) => set({ paper: event.target.value as Texts['paper'] })}
          >
            <option value="A4">A4</option>
            <option value="Letter">Letter</option>
          </select>
        )}
      </Field>
      <Field label="Words at the foot of every quote" wide>
        {(ids) => (
          <textarea
            {...ids}
            rows={2}
            maxLength={1000}
            value={texts.footWords}
            onChange={(event) => set({ footWords: event.target.value })}
          />
        )}
      </Field>
      <div className={styles.end}>
        {fault ? <p role="alert">{fault}</p> : null}
        <ProblemNote problem={save.problem} />
        <Button type="submit" disabled={save.isBusy}>
          Save how quotes are counted
        </Button>
      </div>
    </form>
  );
}
