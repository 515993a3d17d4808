import { useState } from 'react';
import type { InputOf, QuoteView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field, Tick } from '../pieces/field.tsx';
import { howWords } from '../words/labels.ts';
import styles from './quotes.module.css';

type How = keyof typeof howWords;

interface Props {
  quote: QuoteView;
  customer: string;
  isBusy: boolean;
  onAnswer: (answer: Omit<InputOf<'quotes.accept'>, 'quoteId' | 'ifVersion'>) => void;
}

/** What the customer says to an issued quote: who, how, which option, and what is left undone. */
export function QuoteAnswer({ quote, customer, isBusy, onAnswer }: Props) {
  const [who, setWho] = useState(customer);
  const [how, setHow] = useState<How>('phone');
  const [optionId, setOptionId] = useState(quote.options[0]?.optionId ?? null);
  const [declined, setDeclined] = useState<readonly string[]>([]);
  const offered = quote.lines.filter((line) => line.optionId === null || line.optionId === optionId);
  const isNamed = who.trim() !== '';
  const answer = (lines: readonly string[]): void =>
    onAnswer({
      who: who.trim(),
      how,
      declinedLineIds: [...lines],
      ...(optionId ? { optionId } : {}),
    });
  const unsafe = offered.filter((line) => line.safety && declined.includes(line.lineId));
  return (
    <section className={styles.card} aria-label="What the customer says">
      <h2>What the customer says</h2>
      <div className={styles.grid}>
        <Field label="Who answers">
          {(ids) => (
            <input {...ids} maxLength={200} value={who} onChange={(event) => setWho(event.target.value)} />
          )}
        </Field>
        <Field label="How">
          {(ids) => (
            <select {...ids} value={how} onChange={(event) => setHow(event.target.value as How)}>
              {(Object.keys(howWords) as How[]).map((each) => (
                <option key={each} value={each}>
                  {howWords[each]}
                </option>
              ))}
            </select>
          )}
        </Field>
        {quote.options.length > 0 ? (
          <Field label="Which option">
            {(ids) => (
              <select {...ids} value={optionId ?? ''} onChange={(event) => setOptionId(event.target.value)}>
                {quote.options.map((option) => (
                  <option key={option.optionId} value={option.optionId}>
                    {option.title}
                  </option>
                ))}
              </select>
            )}
          </Field>
        ) : null}
      </div>
      <details>
        <summary>Leave lines undone</summary>
        {offered.map((line) => (
          <Tick
            key={line.lineId}
            label={`Without: ${line.words}`}
            isOn={declined.includes(line.lineId)}
            onChange={(isOn) =>
              setDeclined((before) =>
                isOn ? [...before, line.lineId] : before.filter((id) => id !== line.lineId),
              )
            }
          />
        ))}
      </details>
      {unsafe.length > 0 ? (
        <p className={styles.stop}>
          <b>To be read out, or signed on the paper:</b> {quote.declineStatement.before}{' '}
          {unsafe.map(({ words }) => words).join('; ')}. {quote.declineStatement.after}
        </p>
      ) : null}
      <div className={styles.line}>
        <Button look="main" disabled={!isNamed || isBusy} onClick={() => answer(declined)}>
          {declined.length > 0 ? 'Accepted without these lines' : 'Accepted'}
        </Button>
        <Button disabled={!isNamed || isBusy} onClick={() => answer(offered.map(({ lineId }) => lineId))}>
          Declined
        </Button>
      </div>
    </section>
  );
}
