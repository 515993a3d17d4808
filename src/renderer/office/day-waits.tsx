import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { statusWords, urgencyWords } from '../words/labels.ts';
import { dayWords, whenWords } from '../words/time.ts';
import styles from './day-page.module.css';

type Day = OutputOf<'patterns.day'>;
type Order = Day['orders'][number];
type Advisory = Day['advisories'][number];

/** How many are shown; the rest is named as a number. */
const most = 15;

function OrderLine({ order }: { order: Order }) {
  const isThere = order.arrived >= order.quantity;
  return (
    <li className={styles.line}>
      <Link to={`/bench/${order.jobNumber}`}>{order.jobNumber}</Link>
      <span>
        {order.quantity > 1 ? `${order.quantity} × ` : ''}
        <b>{order.title}</b> {order.partNumber}
        {order.supplier ? ` from ${order.supplier}` : ''}
        {order.arrived > 0 && !isThere ? `, ${order.arrived} arrived` : ''}
        <span className={styles.below}>
          {isThere
            ? `arrived; ${statusWords[order.jobStatus].toLowerCase()}`
            : order.expectedAt
              ? `expected ${whenWords(order.expectedAt)}`
              : 'no date given'}
          {order.isLate ? <b className={styles.late}> late</b> : null}
        </span>
      </span>
    </li>
  );
}

function AdvisoryLine({ advisory }: { advisory: Advisory }) {
  const { plate, model, customer, phone } = advisory;
  return (
    <li className={styles.line}>
      <Link to={`/bench/${advisory.jobNumber}`}>{advisory.jobNumber}</Link>
      <span>
        <b>{urgencyWords[advisory.urgency]}</b>: {advisory.words}{' '}
        {advisory.doNotRide ? <DoNotRide small /> : null}
        <span className={styles.below}>
          {[plate ?? 'no plate', model, customer, phone].filter(Boolean).join(', ')}
        </span>
      </span>
      <span className={styles.when}>{dayWords(advisory.madeAt)}</span>
    </li>
  );
}

/** Parts awaited and arrived for the jobs in the shop, and advisories that are due, safety first. */
export function DayWaits() {
  const day = useRead('patterns.day', {});
  const { data } = day;
  if (day.isError) return <ProblemNote problem={day.error} onRetry={() => void day.refetch()} />;
  if (!data) return <Waiting what="Looking over parts and advisories" />;
  const due = data.advisories.filter((one) => one.doNotRide || one.urgency !== 'watch');
  const awaited = data.orders.filter((order) => order.arrived < order.quantity);
  const arrived = data.orders.filter((order) => order.arrived >= order.quantity);
  const counts = data.advisoryCounts;
  return (
    <div className={styles.columns}>
      <section>
        <h2 className={styles.head}>Parts for the jobs in the shop</h2>
        {data.orders.length === 0 ? (
          <p className={styles.soft}>Nothing is on order for an open job.</p>
        ) : null}
        {[
          { title: 'Awaited', orders: awaited },
          { title: 'Arrived', orders: arrived },
        ]
          .filter((group) => group.orders.length > 0)
          .map((group) => (
            <section key={group.title} className={styles.group}>
              <h3>
                {group.title} <b>{group.orders.length}</b>
              </h3>
              <ul>
                {group.orders.map((order) => (
                  <OrderLine key={order.orderId} order={order} />
                ))}
              </ul>
            </section>
          ))}
      </section>
      <section className={styles.wide}>
        <h2 className={styles.head}>Advisories due, safety first</h2>
        <p className={styles.soft}>
          {counts.now + counts.soon + counts.watch === 0
            ? 'Nothing found beside other jobs is left to do.'
            : `${counts.now} now, ${counts.soon} soon, ${counts.watch} to watch, found beside other jobs and not yet settled.`}
        </p>
        <ul>
          {due.slice(0, most).map((advisory) => (
            <AdvisoryLine key={advisory.advisoryId} advisory={advisory} />
          ))}
        </ul>
        {counts.now + counts.soon > Math.min(due.length, most) ? (
          <p className={styles.soft}>And {counts.now + counts.soon - Math.min(due.length, most)} more.</p>
        ) : null}
      </section>
    </div>
  );
}
