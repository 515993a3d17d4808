import type { InputOf, ProcedureName } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { howWords } from '../words/labels.ts';
import { moneyWords } from '../words/money.ts';
import { whenWords } from '../words/time.ts';
import { minutesWords } from '../words/units.ts';
import { AddLine } from './add-line.tsx';
import { QuoteAnswer } from './quote-answer.tsx';
import { QuotePaper } from './quote-paper.tsx';
import { QuoteTable } from './quote-table.tsx';
import styles from './quotes.module.css';

export const stateWords = {
  draft: 'Draft',
  issued: 'Issued, waiting for an answer',
  accepted: 'Accepted',
  declined: 'Declined',
} as const;
const shown: readonly ProcedureName[] = ['quotes.get', 'quotes.list', 'jobs.get', 'jobs.list'];

/** One quote: its lines and sums, what can be done with it next, and the answer of the customer. */
export function QuoteSheet({ quoteId, customer }: { quoteId: string; customer: string }) {
  const read = useRead('quotes.get', { quoteId });
  const draft = useWrite('quotes.draft', shown);
  const issue = useWrite('quotes.issue', shown);
  const accept = useWrite('quotes.accept', shown);
  if (read.isPending) return <Waiting what="Getting the quote" />;
  if (read.isError) return <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />;
  const quote = read.data;
  const { version, state } = quote;
  const isBusy = draft.isBusy || issue.isBusy || accept.isBusy;
  const isDraft = state === 'draft';
  const currency = quote.priced[0]?.total.currency ?? 'USD';
  const change = async (set: Pick<InputOf<'quotes.draft'>, 'lines' | 'options'>): Promise<boolean> =>
    (await draft.run({ quoteId, ifVersion: version, ...set })) !== null;
  const kept = quote.lines.map(({ partNumber, discountPercent, optionId, ...line }) => ({
    ...line,
    ...(partNumber === null ? {} : { partNumber }),
    ...(discountPercent === null ? {} : { discountPercent }),
    ...(optionId === null ? {} : { optionId }),
  }));
  const last = quote.issues.at(-1);
  return (
    <div className={styles.part}>
      <div className={styles.line}>
        <h2>
          Quote {quote.number}
          {quote.title ? `, ${quote.title}` : ''}
        </h2>
        <span className={styles.state}>{stateWords[state]}</span>
        {last ? <span className={styles.soft}>holds until {last.validUntil}</span> : null}
      </div>
      {quote.priced.map((option) => (
        <QuoteTable
          key={option.optionId ?? 'all'}
          quote={quote}
          option={option}
          {...(isDraft
            ? {
                onRemove: (lineId: string) =>
                  void change({ lines: kept.filter((line) => line.lineId !== lineId) }),
              }
            : {})}
        />
      ))}
      {quote.note ? <p>{quote.note}</p> : null}
      {quote.gate ? <p>{quote.gate.says}</p> : null}
      {quote.labor ? (
        <p className={styles.soft}>
          Labor quoted {minutesWords(quote.labor.quotedMinutes)}, booked so far{' '}
          {minutesWords(quote.labor.actualMinutes)}
        </p>
      ) : null}
      {quote.answer ? (
        <p>
          <b>{stateWords[state]}</b> by {quote.answer.who}, {howWords[quote.answer.how]},{' '}
          {whenWords(quote.answer.at)}: {moneyWords(quote.answer.total)}
        </p>
      ) : null}
      <ProblemNote problem={draft.problem ?? issue.problem ?? accept.problem} />
      {isDraft ? (
        <AddLine currency={currency} isBusy={isBusy} onAdd={(line) => change({ lines: [...kept, line] })} />
      ) : null}
      <div className={styles.line}>
        {isDraft ? (
          <Button
            look="main"
            disabled={isBusy || quote.lines.length === 0}
            onClick={() => void issue.run({ quoteId, ifVersion: version })}
          >
            Issue the quote
          </Button>
        ) : (
          <Button disabled={isBusy} onClick={() => void change({})}>
            Change it and issue it anew
          </Button>
        )}
      </div>
      {state === 'issued' ? (
        <QuoteAnswer
          key={version}
          quote={quote}
          customer={customer}
          isBusy={isBusy}
          onAnswer={(answer) => void accept.run({ quoteId, ifVersion: version, ...answer })}
        />
      ) : null}
      <QuotePaper quoteId={quoteId} key={`paper ${version}`} />
    </div>
  );
}
