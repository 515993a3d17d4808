import { useState } from 'react';
import { Link } from 'react-router';
import type { StockView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { HeldList } from './held-list.tsx';
import { OrderForm } from './order-form.tsx';
import { OrdersList } from './orders-list.tsx';
import styles from './stock.module.css';
import { StockRow, StockTable } from './stock-table.tsx';

function LowRow({ view }: { view: StockView }) {
  const [isOrdering, setOrdering] = useState(false);
  const lacking = view.stock.minimum - view.stock.free - view.stock.onOrder;
  return (
    <StockRow
      view={view}
      figures={[view.stock.minimum]}
      isLinked
      form={
        isOrdering ? (
          <OrderForm
            partNumber={view.partNumber}
            quantity={Math.max(1, lacking)}
            onDone={() => setOrdering(false)}
          />
        ) : null
      }
    >
      <Button size="row" aria-label={`Order: ${view.partNumber}`} onClick={() => setOrdering(!isOrdering)}>
        Order
      </Button>
    </StockRow>
  );
}

/** What is on the way, what runs low, and which old parts still go back. */
export function StockScreen() {
  const list = useRead('stock.list', { low: true, limit: 200 });
  const data = list.data;
  return (
    <div className={styles.page}>
      <div className={styles.head}>
        <h1>Orders and shelf</h1>
        <Link to="/counter/parts">Back to the parts</Link>
      </div>
      {list.isPending ? <Waiting what="Looking at the shelf" /> : null}
      <ProblemNote problem={list.error} onRetry={() => void list.refetch()} />
      {data ? (
        <>
          <section className={styles.card} aria-label="On order">
            <h2>On order</h2>
            {data.orders.length === 0 ? (
              <Empty title="Nothing is on order.">
                Order a part from the parts of a job, or below where the shelf runs low.
              </Empty>
            ) : (
              <OrdersList orders={data.orders} showsJob />
            )}
          </section>
          <section className={styles.card} aria-label="Old parts held">
            <h2>Old parts held</h2>
            {data.held.length === 0 ? (
              <Empty title="No old part is held.">
                Keep one from the parts of a job, for its deposit or a warranty claim.
              </Empty>
            ) : (
              <HeldList held={data.held} showsJob />
            )}
          </section>
          <section className={styles.card} aria-label="Runs low">
            <h2>Runs low</h2>
            {data.parts.length === 0 ? (
              <Empty title="Nothing is below its minimum.">A part's minimum is set in its upkeep.</Empty>
            ) : (
              <StockTable figures={['Least']}>
                {data.parts.map((view) => (
                  <LowRow key={view.partNumber} view={view} />
                ))}
              </StockTable>
            )}
          </section>
        </>
      ) : null}
    </div>
  );
}
