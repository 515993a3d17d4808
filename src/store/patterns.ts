import { type RawBuilder, sql } from 'kysely';
import type { Db } from './tables.ts';

/** From here (inclusive) up to here (exclusive), UTC milliseconds. */
export interface Stretch {
  readonly fromMs: number;
  readonly untilMs: number;
}

/** By what closed concerns are counted. Component and system are known to the book alone and are summed from causes. */
export const storedDimensions = [
  'cause',
  'symptom',
  'model',
  'family',
  'age',
  'mileage',
  'supplier',
  'part-kind',
] as const;
export type StoredDimension = (typeof storedDimensions)[number];

export interface FactFilter {
  readonly modelId?: string | undefined;
  readonly familyId?: string | undefined;
  readonly causeIds?: readonly string[] | undefined;
  readonly symptomId?: string | undefined;
}

type Int = RawBuilder<number>;

/**
 * Year × 12 + month (0 = January) of an instant on the clock of the shop, in whole-number arithmetic that every engine
 * knows (days to civil date, H. Hinnant, chrono-compatible low-level date algorithms).
 */
export function monthOf(ms: Int, offset: Int): Int {
  const days = sql<number>`((${ms} + coalesce(${offset}, 0) * 60000) / 86400000 + 719468)`;
  const dayOfEra = sql<number>`(${days} % 146097)`;
  const yearOfEra = sql<number>`((${dayOfEra} - ${dayOfEra} / 1460 + ${dayOfEra} / 36524 - ${dayOfEra} / 146096) / 365)`;
  const dayOfYear = sql<number>`(${dayOfEra} - (365 * ${yearOfEra} + ${yearOfEra} / 4 - ${yearOfEra} / 100))`;
  return sql<number>`(${days} / 146097 * 4800 + ${yearOfEra} * 12 + (5 * ${dayOfYear} + 2) / 153 + 2)`;
}

const closingMonth = monthOf(sql<number>`concerns.closed_ms`, sql<number>`concerns.closed_offset`);

/** A diagnosis that a comeback took back proves nothing. */
const stands = sql<boolean>`not exists (select 1 from concerns as later
  where later.comeback_of = concerns.id and later.comeback_state = 'diagnosis-taken-back')`;

/** Width of a mileage band, km. */
export const mileageBand_km = 5000;

const keyOf: Readonly<Record<StoredDimension, RawBuilder<string | number | null>>> = {
  cause: sql`concern_causes.cause_id`,
  symptom: sql`concerns.symptom_id`,
  model: sql`concerns.model_id`,
  family: sql`concerns.family_id`,
  age: sql`${closingMonth} / 12 - vehicles.year`,
  mileage: sql`jobs.mileage_km / ${sql.lit(mileageBand_km)}`,
  supplier: sql`concern_parts.supplier`,
  'part-kind': sql`concern_parts.kind`,
};

function closedIn(db: Db, { fromMs, untilMs }: Stretch, filter: FactFilter) {
  let query = db
    .selectFrom('concerns')
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs);
  if (filter.modelId !== undefined) query = query.where('concerns.model_id', '=', filter.modelId);
  if (filter.familyId !== undefined) query = query.where('concerns.family_id', '=', filter.familyId);
  return query;
}

/** Proven concerns that still stand, by a dimension or (`null`) all together; the key null is "not known", for a cause "not in the book". */
export async function countProven(
  db: Db,
  stretch: Stretch,
  by: StoredDimension | null,
  filter: FactFilter = {},
): Promise<{ key: string | number | null; concerns: number }[]> {
  let query = closedIn(db, stretch, filter)
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id');
  if (filter.symptomId !== undefined) query = query.where('concerns.symptom_id', '=', filter.symptomId);
  const { causeIds } = filter;
  if (causeIds !== undefined && by !== 'cause')
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_causes as among')
          .select('among.seq')
          .whereRef('among.concern_id', '=', 'concerns.id')
          .where('among.cause_id', 'in', causeIds.length > 0 ? causeIds : ['']),
      ),
    );
  const joined =
    by === 'cause'
      ? query
          .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
          .$if(causeIds !== undefined, (q) =>
            q.where('concern_causes.cause_id', 'in', causeIds && causeIds.length > 0 ? causeIds : ['']),
          )
      : by === 'supplier' || by === 'part-kind'
        ? query.innerJoin('concern_parts', 'concern_parts.concern_id', 'concerns.id')
        : query;
  const rows = await joined
    .select([
      (by === null ? sql<null>`null` : keyOf[by]).as('key'),
      sql<number>`count(distinct concerns.id)`.as('concerns'),
    ])
    .groupBy(sql`1`)
    .execute();
  return rows.map((row) => ({ key: row.key, concerns: Number(row.concerns) }));
}

/** Visits with at least one closed concern, proven or not, by what is known of the vehicle; `null` counts all together. */
export async function countVisits(
  db: Db,
  stretch: Stretch,
  by: 'model' | 'family' | 'age' | 'mileage' | null,
  filter: Pick<FactFilter, 'modelId' | 'familyId'> = {},
): Promise<{ key: string | number | null; visits: number }[]> {
  const rows = await closedIn(db, stretch, filter)
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
    .select([
      (by === null ? sql<null>`null` : keyOf[by]).as('key'),
      sql<number>`count(distinct concerns.job_id)`.as('visits'),
    ])
    .groupBy(sql`1`)
    .execute();
  return rows.map((row) => ({ key: row.key, visits: Number(row.visits) }));
}

/** Proven concerns by month of the closing, model and cause; those from `splitMs` on are counted apart. */
export async function monthlyCauses(db: Db, stretch: Stretch, splitMs: number) {
  const rows = await closedIn(db, stretch, {})
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
    .select([
      closingMonth.as('month'),
      sql<number>`case when concerns.closed_ms >= ${splitMs} then 1 else 0 end`.as('late'),
      'concerns.model_id as modelId',
      'concern_causes.cause_id as causeId',
      sql<number>`count(distinct concerns.id)`.as('concerns'),
    ])
    .groupBy([sql`1`, sql`2`, 'concerns.model_id', 'concern_causes.cause_id'])
    .execute();
  return rows.map((row) => ({
    month: Number(row.month),
    isLate: Number(row.late) === 1,
    modelId: row.modelId,
    causeId: row.causeId,
    concerns: Number(row.concerns),
  }));
}

/** Visits with a closed concern by month and model. */
export async function monthlyVisits(db: Db, stretch: Stretch, splitMs: number) {
  const rows = await closedIn(db, stretch, {})
    .select([
      closingMonth.as('month'),
      sql<number>`case when concerns.closed_ms >= ${splitMs} then 1 else 0 end`.as('late'),
      'concerns.model_id as modelId',
      sql<number>`count(distinct concerns.job_id)`.as('visits'),
    ])
    .groupBy([sql`1`, sql`2`, 'concerns.model_id'])
    .execute();
  return rows.map((row) => ({
    month: Number(row.month),
    isLate: Number(row.late) === 1,
    modelId: row.modelId,
    visits: Number(row.visits),
  }));
}

/** The closings of one cause (null: not in the book), on one model or all, newest first, with the number of the card. */
export async function closingsOf(
  db: Db,
  stretch: Stretch,
  causeId: string | null,
  modelId: string | undefined,
  limit: number,
) {
  return closedIn(db, stretch, { modelId })
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_causes')
          .select('concern_causes.seq')
          .whereRef('concern_causes.concern_id', '=', 'concerns.id')
          .where('concern_causes.cause_id', causeId === null ? 'is' : '=', causeId),
      ),
    )
    .select(['concerns.id as concernId', 'concerns.closed_ms as closedMs', 'jobs.number as jobNumber'])
    .orderBy('concerns.closed_ms', 'desc')
    .limit(limit)
    .execute();
}

/** Parts fitted at some closings. */
export async function partsOfConcerns(db: Db, concernIds: readonly string[]) {
  if (concernIds.length === 0) return [];
  return db
    .selectFrom('concern_parts')
    .select(['concern_id as concernId', 'kind', 'supplier', 'description'])
    .where('concern_id', 'in', concernIds)
    .execute();
}

/** The first and the last closing; null when nothing is closed. */
export async function ledgerSpan(db: Db): Promise<{ firstMs: number; lastMs: number } | null> {
  const row = await db
    .selectFrom('concerns')
    .select((eb) => [eb.fn.min('closed_ms').as('first'), eb.fn.max('closed_ms').as('last')])
    .where('state', '=', 'closed')
    .executeTakeFirst();
  return row?.first === null || row?.first === undefined
    ? null
    : { firstMs: Number(row.first), lastMs: Number(row.last) };
}

/** The causes of proven concerns that have more than one, concern by concern. */
export async function severalCauses(
  db: Db,
  stretch: Stretch,
  filter: FactFilter,
): Promise<(string | null)[][]> {
  let query = closedIn(db, stretch, filter)
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
    .where(
      sql<boolean>`exists (select 1 from concern_causes as other
        where other.concern_id = concerns.id and other.seq <> concern_causes.seq)`,
    );
  if (filter.symptomId !== undefined) query = query.where('concerns.symptom_id', '=', filter.symptomId);
  if (filter.causeIds !== undefined)
    query = query.where('concern_causes.cause_id', 'in', filter.causeIds.length > 0 ? filter.causeIds : ['']);
  const rows = await query.select(['concerns.id', 'concern_causes.cause_id as causeId']).execute();
  return [...Map.groupBy(rows, (row) => row.id).values()].map((group) => group.map((row) => row.causeId));
}

/** When proven concerns were closed, oldest first; the newest `limit` of them. */
export async function closedMoments(
  db: Db,
  stretch: Stretch,
  filter: FactFilter,
  limit: number,
): Promise<number[]> {
  let query = closedIn(db, stretch, filter).where('concerns.outcome', '=', 'proven').where(stands);
  const { causeIds } = filter;
  if (causeIds !== undefined)
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_causes')
          .select('concern_causes.seq')
          .whereRef('concern_causes.concern_id', '=', 'concerns.id')
          .where('concern_causes.cause_id', 'in', causeIds.length > 0 ? causeIds : ['']),
      ),
    );
  const rows = await query
    .select('concerns.closed_ms as ms')
    .orderBy('concerns.closed_ms', 'desc')
    .limit(limit)
    .execute();
  return rows.map((row) => row.ms ?? 0).reverse();
}
