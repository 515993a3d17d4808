import { useState } from 'react';
import { Link } from 'react-router';
import type { PartOrderView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { dayWords, isPast } from '../words/time.ts';
import styles from './stock.module.css';
import { useStock } from './use-stock.ts';

function Order({ order, showsJob }: { order: PartOrderView; showsJob: boolean }) {
  const stock = useStock();
  const open = order.quantity - order.arrived;
  const [many, setMany] = useState<string | null>(null);
  const pieces = Number(many ?? open);
  const isRight = Number.isInteger(pieces) && pieces >= 1 && pieces <= open;
  const arrive = async (): Promise<void> => {
    const answer = await stock.run('stock.arrive', (moveId) => ({
      moveId,
      orderId: order.orderId,
      quantity: pieces,
    }));
    if (!answer) return;
    setMany(null);
    const job = order.jobNumber === null ? '' : ` Kept for job ${order.jobNumber}.`;
    say(
      answer.jobGoesOn
        ? `${order.partNumber} is here. Job ${order.jobNumber} has all its parts and goes on.`
        : `${order.partNumber} is booked in.${job}`,
    );
  };
  const isLate = open > 0 && order.expectedAt !== null && isPast(order.expectedAt);
  return (
    <tr>
      <th scope="row">
        <span className={styles.number}>{order.partNumber}</span> {order.title}
      </th>
      <td>{order.supplier}</td>
      {showsJob ? (
        <td>
          {order.jobNumber === null ? (
            'the shelf'
          ) : (
            <Link to={`/bench/${order.jobNumber}/parts`}>job {order.jobNumber}</Link>
          )}
        </td>
      ) : null}
      <td>
        {order.arrived} of {order.quantity} here
      </td>
      <td>
        {order.expectedAt ? dayWords(order.expectedAt) : 'no date'}
        {isLate ? <b> late</b> : null}
      </td>
      <td>
        {open > 0 ? (
          <span className={styles.actions}>
            {open > 1 ? (
              <input
                className={styles.few}
                aria-label={`Pieces of ${order.partNumber} that arrived`}
                inputMode="numeric"
                maxLength={4}
                value={many ?? String(open)}
                onChange={(event) => setMany(event.target.value)}
              />
            ) : null}
            <Button
              aria-label={`Arrived: ${order.partNumber}`}
              disabled={stock.isBusy || !isRight}
              onClick={() => void arrive()}
            >
              Arrived
            </Button>
          </span>
        ) : (
          'all here'
        )}
        <ProblemNote problem={stock.problem} />
      </td>
    </tr>
  );
}

/** What is on order, the first expected first. */
export function OrdersList({ orders, showsJob }: { orders: readonly PartOrderView[]; showsJob: boolean }) {
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col">Supplier</th>
            {showsJob ? <th scope="col">For</th> : null}
            <th scope="col">Here</th>
            <th scope="col">Expected</th>
            <th scope="col">What to do</th>
          </tr>
        </thead>
        <tbody>
          {orders.map((order) => (
            <Order key={order.orderId} order={order} showsJob={showsJob} />
          ))}
        </tbody>
      </table>
    </div>
  );
}
