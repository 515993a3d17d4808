import { useState } from 'react';
import type { FitView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { OrderForm } from './order-form.tsx';
import { useStock } from './use-stock.ts';

/** For a part that fits: keep it for the job from the shelf, or order it. */
export function KeepForJob({ fit, jobId }: { fit: FitView; jobId: string }) {
  const stock = useStock();
  const [isOrdering, setOrdering] = useState(false);
  const free = fit.stock?.free ?? 0;
  const keep = async (): Promise<void> => {
    const done = await stock.run('stock.reserve', (moveId) => ({
      moveId,
      partNumber: fit.partNumber,
      jobId,
      quantity: fit.quantity,
    }));
    if (done) say(`${fit.quantity} × ${fit.partNumber} kept for the job, bin ${done.stock.bin ?? 'none'}.`);
  };
  return (
    <>
      {free >= fit.quantity ? (
        <Button
          size="row"
          aria-label={`Keep for the job: ${fit.partNumber}`}
          disabled={stock.isBusy}
          onClick={() => void keep()}
        >
          Keep for the job
        </Button>
      ) : null}
      <Button size="row" aria-label={`Order: ${fit.partNumber}`} onClick={() => setOrdering(!isOrdering)}>
        Order
      </Button>
      <ProblemNote problem={stock.problem} />
      {isOrdering ? (
        <OrderForm
          partNumber={fit.partNumber}
          jobId={jobId}
          supplierId={fit.price?.supplierId}
          quantity={fit.quantity}
          onDone={() => setOrdering(false)}
        />
      ) : null}
    </>
  );
}
