import { useState } from 'react';
import { useNavigate } from 'react-router';
import type { ProcedureName, QuoteView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { openQuote, setOpenQuote } from './open-quote.ts';
import styles from './quotes.module.css';

const shown: readonly ProcedureName[] = ['quotes.get', 'quotes.list', 'jobs.get', 'jobs.list'];
/** Of each sort: a plate or a name is known well enough to be among the first. */
const offered = 4;

interface Props {
  quote: QuoteView;
  /** Keeps what is typed first, and answers the version to change; null where something cannot be kept. */
  versionNow: () => Promise<number | null>;
}

/** Whose a quote without a job is: a vehicle, a customer, or a job that it goes onto. */
export function QuoteWhose({ quote, versionNow }: Props) {
  const navigate = useNavigate();
  const [text, setText] = useState('');
  const asked = useDelayed(text.trim());
  const { quoteId, vehicleId } = quote;
  const draft = useWrite('quotes.draft', shown);
  const attach = useWrite('quotes.attach', shown);
  const found = useRead('counter.find', asked ? { text: asked } : null, { keep: true });
  const own = useRead('jobs.list', vehicleId ? { vehicleId, limit: 20 } : null);
  const isBusy = draft.isBusy || attach.isBusy;
  const isDraft = quote.state === 'draft';
  const jobs = (own.data?.jobs ?? []).filter(({ status }) => status !== 'collected').slice(0, offered);
  const some = asked && text.trim() ? found.data : undefined;
  const isNothing = some && [some.vehicles, some.customers, some.jobs].every((list) => list.length === 0);

  const give = async (set: { vehicleId?: string | null; forWhom?: string }): Promise<void> => {
    const ifVersion = await versionNow();
    if (ifVersion === null) return;
    if (await draft.run({ quoteId, ifVersion, ...set })) setText('');
  };
  const putOnto = async (job: { jobId: string; number: number }): Promise<void> => {
    const ifVersion = await versionNow();
    if (ifVersion === null || !(await attach.run({ quoteId, ifVersion, jobId: job.jobId }))) return;
    // Parts found at the Counter no longer belong on it.
    if (openQuote()?.quoteId === quoteId) setOpenQuote(null);
    void navigate(`/bench/${job.number}/quote?quote=${quoteId}`);
  };
  return (
    <section className={styles.card} aria-label="Whose quote">
      <div className={styles.line}>
        <b>No job yet.</b>
        {jobs.map((job) => (
          <Button key={job.jobId} size="row" disabled={isBusy} onClick={() => void putOnto(job)}>
            Put it onto job {job.number}
          </Button>
        ))}
        {vehicleId && isDraft ? (
          <Button size="row" look="quiet" disabled={isBusy} onClick={() => void give({ vehicleId: null })}>
            Take {quote.plate ?? 'the vehicle'} off
          </Button>
        ) : null}
        <div className={styles.whose}>
          <Field label={isDraft ? 'Give it a vehicle, a customer or a job' : 'Put it onto a job'}>
            {(ids) => (
              <input
                {...ids}
                value={text}
                maxLength={80}
                autoComplete="off"
                placeholder="Plate, name or job number"
                onChange={(event) => setText(event.target.value)}
              />
            )}
          </Field>
        </div>
      </div>
      <ProblemNote problem={attach.problem ?? draft.problem ?? found.error} />
      <p role="status" className={styles.soft}>
        {isNothing ? `Nothing fits “${asked}”. Try a plate, a name or a job number.` : ''}
      </p>
      {some && !isNothing ? (
        <ul className={styles.line} aria-label="Whose it can be">
          {isDraft
            ? some.vehicles.slice(0, offered).map((vehicle) => (
                <li key={vehicle.vehicleId}>
                  <Button
                    size="row"
                    disabled={isBusy}
                    onClick={() => void give({ vehicleId: vehicle.vehicleId })}
                  >
                    {[vehicle.plate ?? 'no plate', vehicle.modelTitle, vehicle.customer?.name]
                      .filter(Boolean)
                      .join(' · ')}
                  </Button>
                </li>
              ))
            : null}
          {isDraft
            ? some.customers.slice(0, offered).map((customer) => (
                <li key={customer.customerId}>
                  <Button size="row" disabled={isBusy} onClick={() => void give({ forWhom: customer.name })}>
                    Customer {customer.name}
                  </Button>
                </li>
              ))
            : null}
          {some.jobs
            .filter(({ status }) => status !== 'collected')
            .slice(0, offered)
            .map((job) => (
              <li key={job.jobId}>
                <Button size="row" disabled={isBusy} onClick={() => void putOnto(job)}>
                  Job {job.number}
                  {job.plate ? ` · ${job.plate}` : ''}
                  {job.customer ? ` · ${job.customer}` : ''}
                </Button>
              </li>
            ))}
        </ul>
      ) : null}
    </section>
  );
}
