import { useState } from 'react';
import type { JobView, StockView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { HeldList } from './held-list.tsx';
import { HoldForm } from './hold-form.tsx';
import { OrdersList } from './orders-list.tsx';
import styles from './stock.module.css';
import { StockRow, StockTable } from './stock-table.tsx';
import { useStock } from './use-stock.ts';

const changes = ['jobs.get', 'jobs.list', 'jobs.bench'] as const;

function Row({ view, jobId }: { view: StockView; jobId: string }) {
  const stock = useStock();
  const reserved = view.job?.reserved ?? 0;
  const used = view.job?.used ?? 0;
  const [many, setMany] = useState<string | null>(null);
  const [isHolding, setHolding] = useState(false);
  const pieces = Number(many ?? Math.max(1, reserved));
  const can = (most: number): boolean => Number.isInteger(pieces) && pieces >= 1 && pieces <= most;
  const move = async (name: 'stock.use' | 'stock.release' | 'stock.return'): Promise<void> => {
    const done = await stock.run(name, (moveId) => ({
      moveId,
      partNumber: view.partNumber,
      jobId,
      quantity: pieces,
    }));
    if (done) setMany(null);
  };
  const button = (name: Parameters<typeof move>[0], words: string, most: number) => (
    <Button
      aria-label={`${words}: ${view.partNumber}`}
      disabled={stock.isBusy || !can(most)}
      onClick={() => void move(name)}
    >
      {words}
    </Button>
  );
  return (
    <StockRow
      view={view}
      figures={[reserved, used]}
      form={
        isHolding ? (
          <HoldForm partNumber={view.partNumber} jobId={jobId} onDone={() => setHolding(false)} />
        ) : null
      }
    >
      <span className={styles.actions}>
        <input
          className={styles.few}
          aria-label={`Pieces of ${view.partNumber}`}
          inputMode="numeric"
          maxLength={4}
          value={many ?? String(Math.max(1, reserved))}
          onChange={(event) => setMany(event.target.value)}
        />
        {button('stock.use', 'Use', reserved + view.stock.free)}
        {reserved > 0 ? button('stock.release', 'Release', reserved) : null}
        {used > 0 ? button('stock.return', 'Put back', used) : null}
        {used > 0 ? (
          <Button
            look="quiet"
            aria-label={`Keep the old one: ${view.partNumber}`}
            onClick={() => setHolding(!isHolding)}
          >
            Keep the old one
          </Button>
        ) : null}
      </span>
      <ProblemNote problem={stock.problem} />
    </StockRow>
  );
}

/** Says that the job waits, where parts are still to come. */
function WaitsForParts({ job }: { job: JobView }) {
  const update = useWrite('jobs.update', changes);
  if (job.status === 'waiting-for-parts')
    return <p role="status">The job waits for its parts; when the last one arrives it goes on.</p>;
  if (!['diagnosing', 'in-work', 'checked-in'].includes(job.status)) return null;
  return (
    <>
      <div>
        <Button
          size="row"
          disabled={update.isBusy}
          onClick={() =>
            void update.run({
              jobId: job.jobId,
              ifVersion: job.version,
              set: { status: 'waiting-for-parts' },
            })
          }
        >
          Let the job wait for its parts
        </Button>
      </div>
      <ProblemNote problem={update.problem} />
    </>
  );
}

/** What is kept, used, on order and held for a job. */
export function JobStock({ job }: { job: JobView }) {
  const list = useRead('stock.list', { jobId: job.jobId });
  if (!list.isSuccess) return <ProblemNote problem={list.error} />;
  const { parts, orders, held } = list.data;
  if (parts.length + orders.length + held.length === 0) return null;
  const isWaiting = orders.some((order) => order.arrived < order.quantity);
  return (
    <section className={styles.card} aria-label="Parts of this job">
      <h2>Parts of this job</h2>
      {parts.length > 0 ? (
        <StockTable figures={['Kept', 'Used']}>
          {parts.map((view) => (
            <Row key={view.partNumber} view={view} jobId={job.jobId} />
          ))}
        </StockTable>
      ) : null}
      {orders.length > 0 ? (
        <>
          <h3>On order</h3>
          <OrdersList orders={orders} showsJob={false} />
        </>
      ) : null}
      {isWaiting ? <WaitsForParts job={job} /> : null}
      {held.length > 0 ? (
        <>
          <h3>Old parts held</h3>
          <HeldList held={held} showsJob={false} />
        </>
      ) : null}
    </section>
  );
}
