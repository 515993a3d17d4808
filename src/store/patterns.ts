import { type RawBuilder, sql } from 'kysely';
import { closingMonth } from './month-of.ts';
import { type Edge, type Months, reach, type Stretch } from './month-reach.ts';
import type { Db } from './tables.ts';

/** By what closed concerns are counted. Component and system are known to the book alone and are summed from causes. */
export const storedDimensions = [
  'cause',
  'symptom',
  'model',
  'family',
  'model-year',
  'age',
  'mileage',
  'technician',
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

/** Counts of an edge, to be added up with those of whole months. */
const signed = (edge: Partial<Edge>, counted: readonly KeyedCount[]): KeyedCount[] =>
  edge.sign === -1 ? counted.map(({ key, count }) => ({ key, count: -count })) : [...counted];

/** A diagnosis that a comeback took back proves nothing. */
export const stands = sql<boolean>`not exists (select 1 from concerns as later
  where later.comeback_of = concerns.id and later.comeback_state = 'diagnosis-taken-back')`;

/** The closing with which a visit is counted: the first of its job. */
export const isFirstOfVisit = sql<boolean>`not exists (select 1 from concerns as other
  where other.job_id = concerns.job_id and other.state = 'closed' and (other.closed_ms < concerns.closed_ms
    or (other.closed_ms = concerns.closed_ms and other.id < concerns.id)))`;

/** Width of a mileage band, km. */
export const mileageBand_km = 5000;

/** What only the job or its vehicle tells; it is not in the counts that are kept and is counted one by one. */
const ofJob = ['model-year', 'age', 'mileage', 'technician'] as const;
const isOfJob = (by: string | null): by is (typeof ofJob)[number] =>
  (ofJob as readonly (string | null)[]).includes(by);

/** What is known of a visit, whatever was found. */
export type VisitDimension = 'model' | 'family' | (typeof ofJob)[number];

export const keyOf: Readonly<Record<StoredDimension, RawBuilder<string | number | null>>> = {
  cause: sql`concern_causes.cause_id`,
  symptom: sql`concerns.symptom_id`,
  model: sql`concerns.model_id`,
  family: sql`concerns.family_id`,
  'model-year': sql`vehicles.year`,
  age: sql`${closingMonth} / 12 - vehicles.year`,
  mileage: sql`jobs.mileage_km / ${sql.lit(mileageBand_km)}`,
  technician: sql`nullif(trim(jobs.technician), '')`,
  supplier: sql`concern_parts.supplier`,
  'part-kind': sql`concern_parts.kind`,
};

/** Closings of a stretch, or of the edge of one. */
export function closedIn(
  db: Db,
  edge: Stretch & Partial<Edge>,
  filter: FactFilter,
  from = db.selectFrom('concerns'),
) {
  let query = from
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', edge.fromMs)
    .where('concerns.closed_ms', '<', edge.untilMs);
  if (edge.beforeMonth !== undefined) query = query.where(closingMonth, '<', edge.beforeMonth);
  if (edge.afterMonth !== undefined) query = query.where(closingMonth, '>', edge.afterMonth);
  if (filter.modelId !== undefined) query = query.where('concerns.model_id', '=', filter.modelId);
  if (filter.familyId !== undefined) query = query.where('concerns.family_id', '=', filter.familyId);
  if (filter.symptomId !== undefined) query = query.where('concerns.symptom_id', '=', filter.symptomId);
  const { causeIds } = filter;
  if (causeIds !== undefined)
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_causes as among')
          .select('among.seq')
          .whereRef('among.concern_id', '=', 'concerns.id')
          .where('among.cause_id', 'in', listed(causeIds)),
      ),
    );
  return query;
}

const listed = (ids: readonly string[]): readonly string[] => (ids.length > 0 ? ids : ['']);

/** Concerns with more than one cause. */
export const withSeveral = (db: Db) =>
  db.selectFrom('concern_causes as more').select('more.concern_id').where('more.seq', '>', sql.lit(0));

type Key = string | number | null;
export interface KeyedCount {
  readonly key: Key;
  readonly count: number;
}

/** Standing proven concerns, one by one. */
async function countProvenLive(
  db: Db,
  edge: Stretch & Partial<Edge>,
  by: StoredDimension | null,
  filter: FactFilter,
): Promise<KeyedCount[]> {
  const query = closedIn(db, edge, filter).where('concerns.outcome', '=', 'proven').where(stands);
  const { causeIds } = filter;
  // What is joined differs in its columns only, and none of them is selected by name.
  const joined = (
    by === 'cause'
      ? query
          .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
          .$if(causeIds !== undefined, (q) =>
            q.where('concern_causes.cause_id', 'in', listed(causeIds ?? [])),
          )
      : by === 'supplier' || by === 'part-kind'
        ? query.innerJoin('concern_parts', 'concern_parts.concern_id', 'concerns.id')
        : by === 'mileage' || by === 'technician'
          ? query.innerJoin('jobs', 'jobs.id', 'concerns.job_id')
          : by === 'age' || by === 'model-year'
            ? query
                .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
                .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
            : query
  ) as typeof query;
  // Only what a concern can have several of is counted apart.
  const isSeveral = by === 'cause' || by === 'supplier' || by === 'part-kind';
  const rows = await joined
    .select([
      (by === null ? sql<null>`null` : keyOf[by]).as('key'),
      (isSeveral ? sql<number>`count(distinct concerns.id)` : sql<number>`count(*)`).as('count'),
    ])
    .groupBy(sql`1`)
    .execute();
  return signed(
    edge,
    rows.map((row) => ({ key: row.key, count: Number(row.count) })),
  );
}

const columnOf = {
  cause: 'cause_id',
  model: 'model_id',
  family: 'family_id',
  symptom: 'symptom_id',
} as const;

export type CountedDimension = keyof typeof columnOf | 'supplier' | 'part-kind' | 'month';

const keyOrNull = (key: unknown): Key =>
  key === '' || key === null || key === undefined
    ? null
    : typeof key === 'bigint'
      ? Number(key)
      : (key as Key);

/** Standing proven concerns of whole months, from the counts that are kept. */
export async function countProvenMonths(
  db: Db,
  months: Months,
  by: CountedDimension | null,
  filter: FactFilter,
): Promise<KeyedCount[]> {
  if (by === 'supplier' || by === 'part-kind') {
    const rows = await db
      .selectFrom('month_repairs')
      .select((eb) => ['key', eb.fn.sum(sql<number>`repairs - taken_back`).as('count')])
      .where('grouping', '=', by)
      .where('month', '>=', months.from)
      .where('month', '<=', months.until)
      .groupBy('key')
      .execute();
    return counts(rows);
  }
  const { causeIds } = filter;
  const table = by === 'cause' || causeIds !== undefined ? 'month_causes' : 'month_concerns';
  const key =
    by === null ? sql<null>`null` : sql<string | number>`${sql.ref(by === 'month' ? 'month' : columnOf[by])}`;
  const conditions = [
    sql`month >= ${months.from}`,
    sql`month <= ${months.until}`,
    ...(filter.modelId === undefined ? [] : [sql`model_id = ${filter.modelId}`]),
    ...(filter.familyId === undefined ? [] : [sql`family_id = ${filter.familyId}`]),
    ...(filter.symptomId === undefined ? [] : [sql`symptom_id = ${filter.symptomId}`]),
    ...(causeIds === undefined ? [] : [sql`cause_id in (${sql.join(listed(causeIds))})`]),
  ];
  const { rows } = await sql<{ key: Key; count: number | null }>`select ${key} as key, sum(concerns) as count
    from ${sql.table(table)} where ${sql.join(conditions, sql` and `)} group by 1`.execute(db);
  const made = counts(rows);
  if (by === 'cause' || causeIds === undefined || causeIds.length < 2) return made;
  // A concern with two of the causes stands twice in the counts by cause.
  const twice = new Map((await countedTwice(db, months, by, filter)).map((row) => [row.key, row.count]));
  return made.map((row) => ({ key: row.key, count: row.count - (twice.get(row.key) ?? 0) }));
}

const counts = (rows: readonly { readonly key: unknown; readonly count: unknown }[]): KeyedCount[] =>
  rows
    .map((row) => ({ key: keyOrNull(row.key), count: Number(row.count ?? 0) }))
    .filter((row) => row.count !== 0);

async function countedTwice(
  db: Db,
  months: Months,
  by: Exclude<CountedDimension, 'cause' | 'supplier' | 'part-kind'> | null,
  filter: FactFilter,
): Promise<KeyedCount[]> {
  const key =
    by === null
      ? sql<null>`null`
      : by === 'month'
        ? closingMonth
        : sql<Key>`concerns.${sql.ref(columnOf[by])}`;
  const several = closedIn(
    db,
    { fromMs: Number.MIN_SAFE_INTEGER, untilMs: Number.MAX_SAFE_INTEGER },
    {
      ...filter,
      causeIds: undefined,
    },
  )
    .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
    .where('concern_causes.cause_id', 'in', listed(filter.causeIds ?? []))
    .where('concerns.id', 'in', withSeveral(db))
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .where(closingMonth, '>=', months.from)
    .where(closingMonth, '<=', months.until)
    .select([key.as('key'), sql<number>`count(distinct concern_causes.cause_id) - 1`.as('extra')])
    .groupBy(['concerns.id', sql`1`]);
  const rows = await db
    .selectFrom(several.as('several'))
    .select((eb) => ['key', eb.fn.sum('extra').as('count')])
    .groupBy('key')
    .execute();
  return counts(rows);
}

/** Adds counts of the same key. */
export function addedUp(all: readonly (readonly KeyedCount[])[]): KeyedCount[] {
  const sums = new Map<Key, number>();
  for (const { key, count } of all.flat()) sums.set(key, (sums.get(key) ?? 0) + count);
  return [...sums].map(([key, count]) => ({ key, count }));
}

/**
 * Proven concerns that still stand, by a dimension or (`null`) all together; the key null is "not known", for a cause "not
 * in the book". Whole months come from the counts that are kept; what is not in them is counted one by one.
 */
export async function countProven(
  db: Db,
  stretch: Stretch,
  by: StoredDimension | null,
  filter: FactFilter = {},
): Promise<{ key: Key; concerns: number }[]> {
  const isPart = by === 'supplier' || by === 'part-kind';
  const isFiltered = Object.values(filter).some((value) => value !== undefined);
  const pieces: KeyedCount[][] = [];
  if (isOfJob(by) || (isPart && isFiltered)) pieces.push(await countProvenLive(db, stretch, by, filter));
  else {
    const { months, edges } = await reach(db, stretch);
    if (months) pieces.push(await countProvenMonths(db, months, by, filter));
    for (const edge of edges) pieces.push(await countProvenLive(db, edge, by, filter));
  }
  return addedUp(pieces)
    .filter((row) => row.count !== 0 || by === null)
    .map(({ key, count }) => ({ key, concerns: count }));
}

/** Visits of whole months, from the counts that are kept. */
export async function countVisitsMonths(
  db: Db,
  months: Months,
  by: 'model' | 'family' | 'month' | null,
  filter: Pick<FactFilter, 'modelId' | 'familyId'> = {},
): Promise<KeyedCount[]> {
  const rows = await db
    .selectFrom('month_concerns')
    .where('month', '>=', months.from)
    .where('month', '<=', months.until)
    .$if(filter.modelId !== undefined, (q) => q.where('model_id', '=', filter.modelId ?? ''))
    .$if(filter.familyId !== undefined, (q) => q.where('family_id', '=', filter.familyId ?? ''))
    .select((eb) => [
      (by === null ? sql<null>`null` : sql<Key>`${sql.ref(by === 'month' ? 'month' : columnOf[by])}`).as(
        'key',
      ),
      eb.fn.sum('visits').as('count'),
    ])
    .groupBy(sql`1`)
    .execute();
  return counts(rows);
}

/**
 * Visits with at least one closed concern, proven or not, by what is known of the vehicle; `null` counts all together. A
 * visit is counted once, when its first concern closes.
 */
export async function countVisits(
  db: Db,
  stretch: Stretch,
  by: VisitDimension | null,
  filter: Pick<FactFilter, 'modelId' | 'familyId'> = {},
): Promise<{ key: Key; visits: number }[]> {
  const { modelId, familyId } = filter;
  const live = async (edge: Stretch & Partial<Edge>): Promise<KeyedCount[]> => {
    const first = closedIn(db, edge, { modelId, familyId }).where(isFirstOfVisit);
    const joined = isOfJob(by)
      ? first
          .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
          .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
      : first;
    const rows = await joined
      .select([(by === null ? sql<null>`null` : keyOf[by]).as('key'), sql<number>`count(*)`.as('count')])
      .groupBy(sql`1`)
      .execute();
    return signed(
      edge,
      rows.map((row) => ({ key: row.key, count: Number(row.count) })),
    );
  };
  const pieces: KeyedCount[][] = [];
  if (isOfJob(by)) pieces.push(await live(stretch));
  else {
    const { months, edges } = await reach(db, stretch);
    if (months) pieces.push(await countVisitsMonths(db, months, by, { modelId, familyId }));
    for (const edge of edges) pieces.push(await live(edge));
  }
  return addedUp(pieces)
    .filter((row) => row.count > 0 || by === null)
    .map(({ key, count }) => ({ key, visits: count }));
}

/** The causes of proven concerns that have more than one, concern by concern. */
export async function severalCauses(
  db: Db,
  stretch: Stretch,
  { causeIds, ...filter }: FactFilter,
): Promise<(string | null)[][]> {
  const rows = await closedIn(db, stretch, filter)
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
    .where('concerns.id', 'in', withSeveral(db))
    .$if(causeIds !== undefined, (q) => q.where('concern_causes.cause_id', 'in', listed(causeIds ?? [])))
    .select(['concerns.id', 'concern_causes.cause_id as causeId'])
    .execute();
  return [...Map.groupBy(rows, (row) => row.id).values()].map((group) => group.map((row) => row.causeId));
}

/** When proven concerns were closed, in any order. */
export async function closedMoments(
  db: Db,
  stretch: Stretch,
  { causeIds, ...filter }: FactFilter,
): Promise<number[]> {
  // A few causes are looked up by themselves and their closings after them, instead of every closing by its causes.
  const from =
    causeIds === undefined
      ? db.selectFrom('concerns')
      : (db
          .selectFrom(
            db
              .selectFrom('concern_causes')
              .select('concern_id')
              .distinct()
              .where('cause_id', 'in', listed(causeIds))
              .as('among'),
          )
          .crossJoin('concerns')
          .whereRef('concerns.id', '=', 'among.concern_id') as unknown as ReturnType<
          typeof db.selectFrom<'concerns'>
        >);
  const rows = await closedIn(db, stretch, filter, from)
    .where('concerns.outcome', '=', 'proven')
    .where(stands)
    .select('concerns.closed_ms as ms')
    .execute();
  return rows.map((row) => row.ms ?? 0);
}
