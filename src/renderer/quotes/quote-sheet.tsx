import { useRef, useState } from 'react';
import { Link } from 'react-router';
import type { ProcedureName, QuoteView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { QuoteAnswer } from './quote-answer.tsx';
import { QuoteEditor } from './quote-editor.tsx';
import { AgainstQuoted, QuoteVersions } from './quote-history.tsx';
import { stateWords } from './quote-labels.ts';
import { PdfButtons } from './quote-paper.tsx';
import { QuoteTable } from './quote-table.tsx';
import { QuoteWhose } from './quote-whose.tsx';
import styles from './quotes.module.css';
import { type DraftDesk, useDraft } from './use-draft.ts';

const shown: readonly ProcedureName[] = ['quotes.get', 'quotes.list', 'jobs.get', 'jobs.list'];

/** One quote: its lines and sums, what can be done with it next, and the answer of the customer. */
export function QuoteSheet({ quoteId }: { quoteId: string }) {
  const read = useRead('quotes.get', { quoteId });
  if (read.isPending) return <Waiting what="Getting the quote" />;
  if (read.isError) return <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />;
  const quote = read.data;
  return quote.state === 'draft' ? (
    <OpenSheet key={quoteId} quote={quote} />
  ) : (
    <FixedSheet key={quoteId} quote={quote} />
  );
}

function SheetHead({ quote }: { quote: QuoteView }) {
  const who = [quote.customer, quote.vehicle, quote.plate].filter(Boolean).join(' · ');
  const last = quote.issues.at(-1);
  return (
    <div className={styles.line}>
      <h2>
        Quote {quote.number}
        {quote.title ? `, ${quote.title}` : ''}
      </h2>
      <span className={styles.state}>
        {stateWords[quote.state]}
        {quote.state === 'draft' && last ? `, version ${last.issue + 1}` : ''}
      </span>
      {quote.state !== 'draft' && last ? (
        <span className={styles.soft}>
          version {last.issue}, holds until {last.validUntil}
        </span>
      ) : null}
      {who ? <span className={styles.soft}>{who}</span> : null}
      {quote.jobNumber === null ? null : <Link to={`/bench/${quote.jobNumber}`}>Job {quote.jobNumber}</Link>}
    </div>
  );
}

/** Whether the work may go on within what was approved. */
function Gate({ quote }: { quote: QuoteView }) {
  if (!quote.gate?.says) return null;
  const isStop = !quote.gate.isCovered && quote.gate.asked.amount > 0;
  return (
    <p className={isStop ? styles.stop : styles.pass} role="status">
      {isStop ? <b>Stop and ask. </b> : null}
      {quote.gate.says}
    </p>
  );
}

function OpenSheet({ quote }: { quote: QuoteView }) {
  const desk: DraftDesk = useDraft(quote);
  const issue = useWrite('quotes.issue', shown);
  const [isWaiting, setWaiting] = useState(false);
  const busy = useRef(false);
  const issueNow = async (): Promise<void> => {
    if (busy.current) return;
    busy.current = true;
    setWaiting(true);
    if (await desk.flush()) await issue.run({ quoteId: quote.quoteId, ifVersion: desk.version.current });
    setWaiting(false);
    busy.current = false;
  };
  return (
    <div className={styles.part}>
      <SheetHead quote={quote} />
      {quote.jobId === null ? (
        <QuoteWhose
          quote={quote}
          versionNow={async () => ((await desk.flush()) ? desk.version.current : null)}
        />
      ) : null}
      <QuoteEditor quote={quote} desk={desk} />
      <Gate quote={quote} />
      <ProblemNote problem={issue.problem} />
      <div className={styles.line}>
        <Button
          look="main"
          disabled={isWaiting || desk.draft.lines.length === 0}
          onClick={() => void issueNow()}
        >
          Issue the quote
        </Button>
        <PdfButtons quoteId={quote.quoteId} flush={desk.flush} />
      </div>
      <QuoteVersions quote={quote} />
    </div>
  );
}

/** What the customer did not want: it stands on the job card as an advisory. */
function LeftUndone({ quote }: { quote: QuoteView }) {
  const declined = new Set(quote.answer?.declinedLineIds);
  const left = quote.lines.filter((line) => declined.has(line.lineId));
  if (left.length === 0) return null;
  return (
    <p>
      <b>Left undone:</b> {left.map(({ words, safety }) => `${words}${safety ? ' (safety)' : ''}`).join('; ')}
      {quote.jobNumber === null ? '' : '. It stands on the job card as an advisory.'}
    </p>
  );
}

function FixedSheet({ quote }: { quote: QuoteView }) {
  const { quoteId, version } = quote;
  const draft = useWrite('quotes.draft', shown);
  const accept = useWrite('quotes.accept', shown);
  const isBusy = draft.isBusy || accept.isBusy;
  return (
    <div className={styles.part}>
      <SheetHead quote={quote} />
      {quote.jobId === null ? <QuoteWhose quote={quote} versionNow={async () => version} /> : null}
      {quote.priced.map((option) => (
        <QuoteTable key={option.optionId ?? 'all'} quote={quote} option={option} />
      ))}
      <LeftUndone quote={quote} />
      {quote.note ? <p>{quote.note}</p> : null}
      <Gate quote={quote} />
      <ProblemNote problem={draft.problem ?? accept.problem} />
      <div className={styles.line}>
        <PdfButtons quoteId={quoteId} key={`paper ${version}`} />
        <Button size="row" disabled={isBusy} onClick={() => void draft.run({ quoteId, ifVersion: version })}>
          Change it and issue it anew
        </Button>
      </div>
      {quote.state === 'issued' ? (
        <QuoteAnswer
          key={version}
          quote={quote}
          customer={quote.customer ?? ''}
          isBusy={isBusy}
          onAnswer={(answer) => void accept.run({ quoteId, ifVersion: version, ...answer })}
        />
      ) : null}
      {quote.against ? <AgainstQuoted against={quote.against} /> : null}
      <QuoteVersions quote={quote} />
    </div>
  );
}
