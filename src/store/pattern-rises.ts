import { sql } from 'kysely';
import { monthIn } from './month-of.ts';
import { type Edge, reach, type Stretch } from './month-reach.ts';
import { closedIn, isFirstOfVisit, stands } from './patterns.ts';
import type { Db } from './tables.ts';

const calendarMonths = Array.from({ length: 12 }, (_, month) => month);
type Named = string | null;
const named = (id: string): Named => (id === '' ? null : id);

interface Pair {
  readonly causeId: Named;
  readonly modelId: Named;
  readonly byMonth: number[];
}

/** Standing proven concerns of a stretch by cause and model, each by calendar month. */
async function pairsIn(db: Db, stretch: Stretch, into: Map<string, Pair>): Promise<void> {
  const add = (causeId: Named, modelId: Named, month: number, count: number): void => {
    const key = JSON.stringify([causeId, modelId]);
    const pair = into.get(key) ?? { causeId, modelId, byMonth: calendarMonths.map(() => 0) };
    pair.byMonth[month] = (pair.byMonth[month] ?? 0) + count;
    into.set(key, pair);
  };
  const { months, edges } = await reach(db, stretch);
  if (months) {
    // In the order of the key, so that nothing has to be sorted; the months side by side, so that it is read once.
    const sums = calendarMonths.map(
      (month) => sql`sum(case when month % 12 = ${sql.lit(month)} then concerns else 0 end)`,
    );
    const { rows } = await sql<Record<string, unknown>>`select cause_id, model_id,
      ${sql.join(sums.map((sum, month) => sql`${sum} as ${sql.ref(`m${month}`)}`))}
      from month_causes where month >= ${months.from} and month <= ${months.until} group by cause_id, model_id`.execute(
      db,
    );
    for (const row of rows)
      for (const month of calendarMonths)
        add(named(String(row.cause_id)), named(String(row.model_id)), month, Number(row[`m${month}`]));
  }
  for (const edge of edges) {
    const rows = await closedIn(db, edge, {})
      .where('concerns.outcome', '=', 'proven')
      .where(stands)
      .innerJoin('concern_causes', 'concern_causes.concern_id', 'concerns.id')
      .select([
        sql<number>`${monthIn(edge)} % 12`.as('month'),
        'concerns.model_id as modelId',
        'concern_causes.cause_id as causeId',
        sql<number>`count(distinct concerns.id)`.as('concerns'),
      ])
      .groupBy([sql`1`, 'concerns.model_id', 'concern_causes.cause_id'])
      .execute();
    for (const row of rows)
      add(row.causeId, row.modelId, Number(row.month), edge.sign * Number(row.concerns));
  }
}

/**
 * Standing proven concerns by cause and model: in a stretch, and by calendar month in all that came before it. What came before is
 * what is left of the whole, so that the month in which the stretch begins is looked at once.
 */
export async function causePairs(db: Db, now: Stretch) {
  const late = new Map<string, Pair>();
  const whole = new Map<string, Pair>();
  await pairsIn(db, now, late);
  await pairsIn(db, { fromMs: Number.MIN_SAFE_INTEGER, untilMs: now.untilMs }, whole);
  return [...whole]
    .map(([key, { causeId, modelId, byMonth }]) => {
      const ofNow = late.get(key)?.byMonth;
      return {
        causeId,
        modelId,
        now: (ofNow ?? []).reduce((sum, n) => sum + n, 0),
        before: ofNow ? byMonth.map((n, month) => n - (ofNow[month] ?? 0)) : byMonth,
      };
    })
    .filter((pair) => pair.now > 0 || pair.before.some((n) => n > 0));
}

/** Adds the counts of rows that are alike in all else; what comes to nothing goes. */
function addedTogether<
  C extends 'visits' | 'concerns',
  R extends Readonly<Record<C, number>> & { readonly month: number; readonly modelId?: string | null },
>(rows: readonly R[], count: C): R[] {
  const sums = new Map<string, R>();
  for (const row of rows) {
    const key = `${row.month} ${row.modelId ?? ''}`;
    const before = sums.get(key);
    sums.set(key, before ? { ...before, [count]: before[count] + row[count] } : row);
  }
  return [...sums.values()].filter((row) => row[count] > 0);
}

async function visitsIn(
  db: Db,
  stretch: Stretch,
): Promise<{ month: number; modelId: string | null; visits: number }[]> {
  const { months, edges } = await reach(db, stretch);
  const found: { month: number; modelId: string | null; visits: number }[] = [];
  if (months)
    for (const row of await db
      .selectFrom('month_concerns')
      .select((eb) => ['month', 'model_id', eb.fn.sum('visits').as('visits')])
      .where('month', '>=', months.from)
      .where('month', '<=', months.until)
      .groupBy(['month', 'model_id'])
      .execute())
      found.push({ month: Number(row.month), modelId: named(row.model_id), visits: Number(row.visits) });
  for (const edge of edges)
    for (const row of await closedIn(db, edge, {})
      .where(isFirstOfVisit)
      .select([monthIn(edge).as('month'), 'concerns.model_id as modelId', sql<number>`count(*)`.as('visits')])
      .groupBy([sql`1`, 'concerns.model_id'])
      .execute())
      found.push({ month: Number(row.month), modelId: row.modelId, visits: edge.sign * Number(row.visits) });
  return addedTogether(found, 'visits');
}

/** Visits by month and model: in a stretch (`isLate`) and in all that came before it, which is what is left of the whole. */
export async function visitsByMonth(db: Db, now: Stretch) {
  const late = await visitsIn(db, now);
  const whole = await visitsIn(db, { fromMs: Number.MIN_SAFE_INTEGER, untilMs: now.untilMs });
  const less = late.map((cell) => ({ ...cell, visits: -cell.visits }));
  return [
    ...addedTogether([...whole, ...less], 'visits').map((cell) => ({ ...cell, isLate: false })),
    ...late.map((cell) => ({ ...cell, isLate: true })),
  ];
}

/** Standing proven concerns of one cause (null: not in the book) by month, on one model (null: not known) or on all. */
export async function causeByMonth(
  db: Db,
  stretch: Stretch,
  causeId: string | null,
  modelId: string | null | undefined,
): Promise<{ month: number; concerns: number }[]> {
  const { months, edges } = await reach(db, stretch);
  const found: { month: number; concerns: number }[] = [];
  if (months)
    for (const row of await db
      .selectFrom('month_causes')
      .select((eb) => ['month', eb.fn.sum('concerns').as('concerns')])
      .where('cause_id', '=', causeId ?? '')
      .$if(modelId !== undefined, (q) => q.where('model_id', '=', modelId ?? ''))
      .where('month', '>=', months.from)
      .where('month', '<=', months.until)
      .groupBy('month')
      .execute())
      found.push({ month: Number(row.month), concerns: Number(row.concerns) });
  for (const edge of edges)
    for (const row of await ofCause(db, edge, causeId, modelId)
      .select([monthIn(edge).as('month'), sql<number>`count(*)`.as('concerns')])
      .groupBy(sql`1`)
      .execute())
      found.push({ month: Number(row.month), concerns: edge.sign * Number(row.concerns) });
  return addedTogether(found, 'concerns');
}

/**
 * Standing proven concerns of one cause, one by one. `byCause` looks up all concerns of the cause first, instead of all closings
 * of the stretch: quicker where the cause is rare.
 */
const ofCause = (
  db: Db,
  edge: Stretch & Partial<Edge>,
  causeId: string | null,
  modelId: string | null | undefined,
  byCause = false,
) =>
  closedIn(
    db,
    edge,
    {},
    byCause
      ? (db
          .selectFrom(
            db
              .selectFrom('concern_causes')
              .select('concern_id')
              .distinct()
              .where('cause_id', causeId === null ? 'is' : '=', causeId)
              .as('among'),
          )
          .crossJoin('concerns')
          .whereRef('concerns.id', '=', 'among.concern_id') as unknown as ReturnType<
          typeof db.selectFrom<'concerns'>
        >)
      : undefined,
  )
    .$if(modelId !== undefined, (q) =>
      q.where('concerns.model_id', modelId === null ? 'is' : '=', modelId ?? null),
    )
    .where('concerns.outcome', '=', 'proven')
    .where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_causes')
          .select('concern_causes.seq')
          .whereRef('concern_causes.concern_id', '=', 'concerns.id')
          .where('concern_causes.cause_id', causeId === null ? 'is' : '=', causeId),
      ),
    )
    .where(stands);

/**
 * The closings of one cause (null: not in the book), on one model or all, newest first, with the number of the card.
 * @param byCause the cause has fewer concerns in all than closings would have to be looked at
 */
export async function closingsOf(
  db: Db,
  stretch: Stretch,
  causeId: string | null,
  modelId: string | null | undefined,
  limit: number,
  byCause: boolean,
) {
  return ofCause(db, stretch, causeId, modelId, byCause)
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
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
