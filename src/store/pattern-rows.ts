import { sql } from 'kysely';
import type { Stretch } from './month-reach.ts';
import { closedIn, stands, withSeveral } from './patterns.ts';
import type { Db } from './tables.ts';

const msOfDay = 86_400_000;
/** Days of a stretch of use. */
const stretchDays = 30;

/** Parts of a kind used in each of the last `stretches` stretches of 30 days of UTC, 0 the newest, which ends with today. */
export async function partDemand(db: Db, nowMs: number, stretches: number) {
  const today = Math.floor(nowMs / msOfDay);
  const rows = await db
    .selectFrom('day_parts')
    .select((eb) => [
      'kind',
      sql<number>`(${sql.lit(today)} - day) / ${sql.lit(stretchDays)}`.as('stretch'),
      eb.fn.sum('quantity').as('quantity'),
    ])
    .where('day', '<=', today)
    .where('day', '>', today - stretches * stretchDays)
    .groupBy(['kind', sql`2`])
    .execute();
  return rows.map((row) => ({
    kind: row.kind === '' ? null : row.kind,
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

/** Proven concerns of a stretch that stand, oldest first or newest first. */
const provenIn = (db: Db, stretch: Stretch) =>
  closedIn(db, stretch, {}).where('concerns.outcome', '=', 'proven').where(stands);

/**
 * Where the newest `limit` proven concerns of a stretch begin, how many there are, and when the later part of them
 * (`share`) begins.
 */
export async function newestProven(
  db: Db,
  stretch: Stretch,
  limit: number,
  share: number,
): Promise<{ fromMs: number; splitMs: number; concerns: number; isAll: boolean }> {
  const nth = async (offset: number): Promise<number | null> => {
    const row = await provenIn(db, stretch)
      .select('concerns.closed_ms as ms')
      .orderBy('concerns.closed_ms', 'desc')
      .limit(1)
      .offset(offset)
      .executeTakeFirst();
    return row?.ms ?? null;
  };
  const counted = await db
    .selectFrom(provenIn(db, stretch).select('concerns.id').limit(limit).as('newest'))
    .select((eb) => eb.fn.countAll().as('concerns'))
    .executeTakeFirst();
  const concerns = Number(counted?.concerns ?? 0);
  const oldest = concerns < limit ? null : await nth(limit - 1);
  const split = concerns === 0 ? null : await nth(Math.max(0, Math.ceil(concerns * share) - 1));
  return {
    fromMs: oldest ?? stretch.fromMs,
    splitMs: split ?? stretch.untilMs,
    concerns,
    isAll: concerns < limit || (await nth(limit)) === null,
  };
}

/**
 * Proven concerns of a stretch with the ranking that was shown when they came in and the causes that were proven, oldest
 * first, so many at a time.
 */
export async function* shownAndProven(db: Db, stretch: Stretch, pageSize = 1000) {
  let after = { ms: stretch.fromMs, id: '' };
  for (;;) {
    const rows = await provenIn(db, { ...stretch, fromMs: after.ms })
      .where((eb) => eb.or([eb('concerns.closed_ms', '>', after.ms), eb('concerns.id', '>', after.id)]))
      .leftJoin('shown', (join) =>
        join.onRef('shown.concern_id', '=', 'concerns.id').on('shown.seq', '=', (eb) =>
          eb
            .selectFrom('shown as first')
            .select((e) => e.fn.min('first.seq').as('seq'))
            .whereRef('first.concern_id', '=', 'concerns.id')
            .where('first.moment', '=', 'opened'),
        ),
      )
      .select([
        'concerns.id',
        'concerns.closed_ms as closedMs',
        'concerns.symptom_id as symptomId',
        'shown.at_ms as shownMs',
        'shown.ranking',
      ])
      .orderBy('concerns.closed_ms')
      .orderBy('concerns.id')
      .limit(pageSize)
      .execute();
    const last = rows.at(-1);
    if (!last) return;
    const causes = await db
      .selectFrom('concern_causes')
      .select(['concern_id', 'cause_id'])
      .where(
        'concern_id',
        'in',
        rows.map((row) => row.id),
      )
      .orderBy('concern_id')
      .orderBy('seq')
      .execute();
    yield { rows, causes };
    after = { ms: last.closedMs ?? after.ms, id: last.id };
  }
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
    .where('concerns.id', 'not in', withSeveral(db))
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
    .where('concern_causes.cause_id', 'is', null)
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .orderBy('concerns.closed_ms', 'desc')
    .limit(5000)
    .execute();
}
