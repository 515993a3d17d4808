import { useState } from 'react';
import { Link, useParams, useSearchParams } from 'react-router';
import type { JobView, ProcedureName } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { newId } from '../session/new-id.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { moneyWords } from '../words/money.ts';
import { stateWords } from './quote-labels.ts';
import { QuoteSheet } from './quote-sheet.tsx';
import styles from './quotes.module.css';

const shown: readonly ProcedureName[] = ['quotes.list'];

/** The quotes of a job: write one from its causes, or open one that stands. */
export function JobQuotes() {
  const number = Number(useParams().number);
  const job = useRead('jobs.get', { number: Number.isSafeInteger(number) ? number : 0 });
  if (job.isPending)
    return (
      <div className="page">
        <Waiting what="Getting the job card" />
      </div>
    );
  if (job.isError)
    return (
      <div className="page">
        <ProblemNote problem={job.error} onRetry={() => void job.refetch()} />
      </div>
    );
  return <Quotes key={job.data.jobId} job={job.data} />;
}

function Quotes({ job }: { job: JobView }) {
  const list = useRead('quotes.list', { jobId: job.jobId });
  const [params] = useSearchParams();
  const [chosen, setChosen] = useState<string | null>(params.get('quote'));
  const draft = useWrite('quotes.draft', shown);
  const open = job.concerns.find(({ state }) => state === 'open');
  const bench = useRead('jobs.bench', open ? { jobId: job.jobId, concernId: open.concernId } : null);
  const isProven = job.concerns.some(({ closing }) => closing?.kind === 'proven');
  const quotes = list.data?.quotes ?? [];
  const quoteId = chosen ?? quotes[0]?.quoteId ?? null;
  const write = async (from: { fromJob: true } | { causeIds: string[] } | object): Promise<void> => {
    const made = await draft.run({ quoteId: newId(), jobId: job.jobId, ...from });
    if (made) setChosen(made.quoteId);
  };
  return (
    <div className={styles.page}>
      <div className={styles.head}>
        <h1>Quotes for job {job.number}</h1>
        <span>
          {job.vehicle ? `${job.vehicle.plate ?? 'no plate'} · ${job.vehicle.modelTitle}` : 'no vehicle'}
        </span>
        <Link to={`/bench/${job.number}`}>Back to the bench</Link>
        <Link to={`/bench/${job.number}/parts`}>Parts for this job</Link>
      </div>
      <ProblemNote problem={list.error ?? draft.problem} />
      {list.isSuccess && quotes.length === 0 ? (
        <Empty title="No quote yet for this job.">
          Write one from a cause: labor and a fitting part are filled in, stock first.
        </Empty>
      ) : null}
      <div className={styles.line}>
        {isProven ? (
          <Button disabled={draft.isBusy} onClick={() => void write({ fromJob: true })}>
            Quote what was found
          </Button>
        ) : null}
        {(bench.data?.ranking?.causes ?? []).slice(0, 3).map((cause) => (
          <Button
            key={cause.causeId}
            disabled={draft.isBusy}
            onClick={() => void write({ causeIds: [cause.causeId] })}
          >
            Quote: {cause.title}
          </Button>
        ))}
        <Button disabled={draft.isBusy} onClick={() => void write({})}>
          Quote with empty lines
        </Button>
      </div>
      {quotes.length > 1 ? (
        <ul className={styles.line} aria-label="Quotes of this job">
          {quotes.map((each) => (
            <li key={each.quoteId}>
              <Button
                size="row"
                aria-pressed={each.quoteId === quoteId}
                onClick={() => setChosen(each.quoteId)}
              >
                Quote {each.number} · {stateWords[each.state]} · {moneyWords(each.total)}
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
      {quoteId ? <QuoteSheet key={quoteId} quoteId={quoteId} /> : null}
    </div>
  );
}
