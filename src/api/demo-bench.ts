import type { BenchWork } from '../demo/index.ts';
import { priceQuote } from '../quote/index.ts';
import { type Connection, type Db, insertMany, saveStock, stockRow, type Tables } from '../store/index.ts';
import { toIso } from './instants.ts';
import type { Answer } from './quote-saving.ts';
import { dayAfter } from './quote-views.ts';

interface Into {
  readonly db: Db;
  readonly connection: Connection;
}

interface Places {
  readonly jobIds: readonly string[];
  readonly concernIds: readonly string[];
  readonly offset: number;
  readonly newId: () => string;
}

const firstQuote = 101;

/** Keeps what the invented shop wrote down beside its jobs, inside the transaction of the one who calls. */
export async function saveBenchWork(into: Into, work: BenchWork, places: Places): Promise<void> {
  insertMany(into.connection, 'readings', readingRows(work, places));
  saveQuotes(into.connection, work, places);
  await saveOrders(into, work, places);
}

function* readingRows(work: BenchWork, { concernIds, offset, newId }: Places): Iterable<Tables['readings']> {
  const seqs = new Map<number, number>();
  for (const { job, atMs, check, outcomeId } of work.readings) {
    const seq = (seqs.get(job) ?? 0) + 1;
    seqs.set(job, seq);
    yield {
      id: newId(),
      concern_id: concernIds[job] as string,
      seq,
      at_ms: atMs,
      at_offset: offset,
      check_id: check.id,
      title: check.title,
      shows: check.outcomes.find((one) => one.id === outcomeId)?.title ?? outcomeId,
      outcome: outcomeId,
      skipped: null,
      reading: JSON.stringify({ checkId: check.id, outcome: outcomeId }),
      undone_ms: null,
    };
  }
}

function saveQuotes(connection: Connection, work: BenchWork, { jobIds, offset, newId }: Places): void {
  const made = work.quotes.map((quote, place) => {
    const { total } = priceQuote(quote.body, null).customer;
    const answer: Answer | null = quote.answer && {
      at: toIso(quote.answer.atMs, offset),
      who: quote.answer.who,
      how: quote.answer.how,
      optionId: null,
      declinedLineIds: [],
      total,
      words: '',
    };
    return {
      quote,
      total,
      id: newId(),
      number: firstQuote + place,
      body: JSON.stringify(quote.body),
      answer: answer && JSON.stringify(answer),
      jobId: jobIds[quote.job] as string,
    };
  });
  insertMany(
    connection,
    'quotes',
    made.map(({ quote, total, id, number, body, answer, jobId }) => ({
      id,
      number,
      version: answer === null ? 2 : 3,
      job_id: jobId,
      state: answer === null ? ('issued' as const) : ('accepted' as const),
      body,
      total,
      currency: quote.body.terms.currency,
      answer,
      made_ms: quote.madeMs,
      made_offset: offset,
    })),
  );
  insertMany(
    connection,
    'quote_issues',
    made.map(({ quote, total, id, body, answer }) => ({
      quote_id: id,
      seq: 1,
      body,
      total,
      issued_ms: quote.madeMs,
      issued_offset: offset,
      valid_until: dayAfter(quote.madeMs, offset, quote.body.validDays),
      answer,
    })),
  );
  insertMany(
    connection,
    'approvals',
    made.flatMap(({ quote, total, number, jobId }) =>
      quote.answer === null
        ? []
        : [
            {
              id: newId(),
              job_id: jobId,
              at_ms: quote.answer.atMs,
              at_offset: offset,
              who: quote.answer.who,
              how: quote.answer.how,
              amount: total,
              currency: quote.body.terms.currency,
              words: `Quote ${number} accepted`,
            },
          ],
    ),
  );
}

async function saveOrders(
  { db, connection }: Into,
  work: BenchWork,
  { jobIds, offset, newId }: Places,
): Promise<void> {
  const orders = work.orders.map((order) => ({
    ...order,
    id: newId(),
    jobId: order.job === null ? null : (jobIds[order.job] as string),
  }));
  insertMany(
    connection,
    'part_orders',
    orders.map((order) => ({
      id: order.id,
      part_id: order.partId,
      supplier_id: order.supplierId,
      job_id: order.jobId,
      quantity: order.quantity,
      arrived: order.arrivedMs === null ? 0 : order.quantity,
      expected_ms: order.expectedMs,
      expected_offset: offset,
      made_ms: order.madeMs,
      made_offset: offset,
    })),
  );
  insertMany(
    connection,
    'stock_moves',
    orders.flatMap((order) => {
      const move = (kind: 'order' | 'arrive' | 'reserve', at_ms: number) => ({
        id: newId(),
        part_id: order.partId,
        job_id: order.jobId,
        order_id: order.id,
        kind,
        quantity: order.quantity,
        at_ms,
        at_offset: offset,
        note: null,
      });
      return [
        move('order', order.madeMs),
        ...(order.arrivedMs === null ? [] : [move('arrive', order.arrivedMs)]),
        ...(order.arrivedMs === null || order.jobId === null ? [] : [move('reserve', order.arrivedMs)]),
      ];
    }),
  );
  // The shelf as it stands was counted with what came in for it; only what is awaited or put by for a card is new.
  for (const order of orders) {
    const awaited = order.arrivedMs === null ? order.quantity : 0;
    const putBy = order.arrivedMs !== null && order.jobId !== null ? order.quantity : 0;
    if (awaited === 0 && putBy === 0) continue;
    const row = await stockRow(db, order.partId);
    await saveStock(db, {
      ...row,
      on_hand: row.on_hand + putBy,
      reserved: row.reserved + putBy,
      on_order: row.on_order + awaited,
    });
  }
}
