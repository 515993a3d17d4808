import { sql } from 'kysely';
import type { Stretch } from './patterns.ts';
import type { Db } from './tables.ts';

/** Proven repairs with what was fitted, their causes, and the first return that counts as one. */
export async function repairsIn(db: Db, { fromMs, untilMs }: Stretch) {
  const repairs = await db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select(['concerns.id', 'concerns.closed_ms as closedMs', 'jobs.number as jobNumber'])
    .where('concerns.state', '=', 'closed')
    .where('concerns.outcome', '=', 'proven')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .execute();
  const inside = db
    .selectFrom('concerns')
    .select('concerns.id')
    .where('concerns.outcome', '=', 'proven')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs);
  const causes = await db
    .selectFrom('concern_causes')
    .select(['concern_id', 'cause_id'])
    .where('concern_id', 'in', inside)
    .execute();
  const parts = await db
    .selectFrom('concern_parts')
    .select(['concern_id', 'kind', 'supplier'])
    .where('concern_id', 'in', inside)
    .execute();
  const returns = await db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select([
      'concerns.comeback_of',
      'concerns.comeback_days as days',
      'concerns.comeback_state as state',
      'concerns.comeback_class as word',
      'jobs.opened_ms as openedMs',
      'jobs.number as jobNumber',
    ])
    .where('concerns.comeback_of', 'in', inside)
    .orderBy('jobs.opened_ms')
    .execute();
  return { repairs, causes, parts, returns };
}

/** Parts of a kind used in each of the last `stretches` stretches of 30 days, 0 the newest. */
export async function partDemand(db: Db, nowMs: number, stretches: number) {
  const length = 30 * 86_400_000;
  const rows = await db
    .selectFrom('concern_parts')
    .innerJoin('concerns', 'concerns.id', 'concern_parts.concern_id')
    .select([
      'concern_parts.kind',
      // A number handed over counts as a fraction unless it is cast, and the division would not be whole.
      sql<number>`(cast(${nowMs} as bigint) - concerns.closed_ms) / ${sql.lit(length)}`.as('stretch'),
      (eb) => eb.fn.sum('concern_parts.quantity').as('quantity'),
    ])
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '<=', nowMs)
    .where('concerns.closed_ms', '>', nowMs - stretches * length)
    .groupBy(['concern_parts.kind', sql`2`])
    .execute();
  return rows.map((row) => ({
    kind: row.kind,
    stretch: Number(row.stretch),
    quantity: Number(row.quantity),
  }));
}

/** What is on the shelf by kind of part. */
export async function shelfByKind(db: Db) {
  const rows = await db
    .selectFrom('stock')
    .innerJoin('parts', 'parts.id', 'stock.part_id')
    .select((eb) => [
      'parts.kind',
      eb.fn.sum('stock.on_hand').as('onHand'),
      eb.fn.sum('stock.reserved').as('reserved'),
      eb.fn.sum('stock.on_order').as('onOrder'),
      eb.fn.countAll().as('numbers'),
    ])
    .groupBy('parts.kind')
    .execute();
  return rows.map((row) => ({
    kind: row.kind,
    onHand: Number(row.onHand),
    reserved: Number(row.reserved),
    onOrder: Number(row.onOrder),
    numbers: Number(row.numbers),
  }));
}

/** Days from ordering a part to its first arrival, where both were noted since `fromMs`. */
export async function leadTimes(db: Db, fromMs: number): Promise<number[]> {
  const rows = await db
    .selectFrom('part_orders')
    .innerJoin('stock_moves', 'stock_moves.order_id', 'part_orders.id')
    .select((eb) => ['part_orders.made_ms as madeMs', eb.fn.min('stock_moves.at_ms').as('arrivedMs')])
    .where('stock_moves.kind', '=', 'arrive')
    .where('part_orders.made_ms', '>=', fromMs)
    .groupBy(['part_orders.id', 'part_orders.made_ms'])
    .execute();
  return rows.map((row) => Math.max(0, (Number(row.arrivedMs) - row.madeMs) / 86_400_000));
}

/** The newest closed concerns with the ranking that was shown when they came in, and the causes that were proven. */
export async function shownAndProven(db: Db, { fromMs, untilMs }: Stretch, limit: number) {
  const rows = await db
    .selectFrom('concerns')
    .innerJoin('shown', 'shown.concern_id', 'concerns.id')
    .select([
      'concerns.id',
      'concerns.closed_ms as closedMs',
      'concerns.symptom_id as symptomId',
      'shown.at_ms as shownMs',
      'shown.ranking',
    ])
    .where('concerns.state', '=', 'closed')
    .where('concerns.outcome', '=', 'proven')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .where('shown.seq', '=', (eb) =>
      eb
        .selectFrom('shown as first')
        .select((e) => e.fn.min('first.seq').as('seq'))
        .whereRef('first.concern_id', '=', 'concerns.id')
        .where('first.moment', '=', 'opened'),
    )
    .where(
      sql<boolean>`not exists (select 1 from concerns as later
        where later.comeback_of = concerns.id and later.comeback_state = 'diagnosis-taken-back')`,
    )
    .orderBy('concerns.closed_ms', 'desc')
    .limit(limit)
    .execute();
  const oldest = rows.at(-1)?.closedMs ?? untilMs;
  const causes = await db
    .selectFrom('concern_causes')
    .innerJoin('concerns', 'concerns.id', 'concern_causes.concern_id')
    .select(['concern_causes.concern_id', 'concern_causes.cause_id'])
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', oldest)
    .where('concerns.closed_ms', '<', untilMs)
    .execute();
  return { rows, causes };
}

/** Planned and actual minutes of closed concerns with one proven cause, by that cause. */
export async function minutesByCause(db: Db, { fromMs, untilMs }: Stretch) {
  const rows = await db
    .selectFrom('concerns')
    .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
    .select((eb) => [
      'concern_causes.cause_id as causeId',
      eb.fn.countAll().as('concerns'),
      eb.fn.sum('concerns.planned_minutes').as('planned'),
      eb.fn.sum('concerns.minutes').as('actual'),
    ])
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .where('concerns.minutes', 'is not', null)
    .where('concerns.planned_minutes', '>', 0)
    .where('concern_causes.cause_id', 'is not', null)
    .where(
      sql<boolean>`not exists (select 1 from concern_causes as other
        where other.concern_id = concerns.id and other.seq <> concern_causes.seq)`,
    )
    .groupBy('concern_causes.cause_id')
    .execute();
  return rows.map((row) => ({
    causeId: row.causeId ?? '',
    concerns: Number(row.concerns),
    planned: Number(row.planned),
    actual: Number(row.actual),
  }));
}

/** Causes that were proven in words because the book lacks them. */
export async function causesInWords(db: Db, { fromMs, untilMs }: Stretch) {
  return db
    .selectFrom('concern_causes')
    .innerJoin('concerns', 'concerns.id', 'concern_causes.concern_id')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select(['concern_causes.words', 'concerns.symptom_id as symptomId', 'jobs.number as jobNumber'])
    .where('concern_causes.words', 'is not', null)
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .orderBy('concerns.closed_ms', 'desc')
    .limit(5000)
    .execute();
}
