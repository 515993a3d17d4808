import { type RawBuilder, sql } from 'kysely';
import type { RepairGrouping } from '../ledger/index.ts';
import { type Edge, reach, type Stretch } from './month-reach.ts';
import { closedIn, stands } from './patterns.ts';
import type { Db } from './tables.ts';

/** Proven repairs of a group, and what became of them. */
export interface RepairCount {
  /** One id, or kind and supplier; empty text is a cause that the book lacks, or a kind or supplier not noted. */
  readonly ids: readonly string[];
  readonly repairs: number;
  readonly didNotHold: number;
  readonly wrongDiagnosis: number;
  readonly inDoubt: number;
}

const returned = (
  state: 'diagnosis-stands' | 'in-doubt',
): RawBuilder<boolean> => sql<boolean>`exists (select 1
  from concerns as later where later.comeback_of = concerns.id and later.comeback_state = ${sql.lit(state)})`;

/** Concerns that came back: the returns are looked up first, since they are few, and what they came back from after them. */
const firstOfReturns = (db: Db, states: readonly string[]) =>
  db
    .selectFrom('concerns as later')
    .crossJoin('concerns')
    .whereRef('concerns.id', '=', 'later.comeback_of')
    .where('later.comeback_of', 'is not', null)
    .where('later.comeback_state', 'in', states) as unknown as ReturnType<typeof db.selectFrom<'concerns'>>;

interface Counted {
  readonly key: string;
  readonly supplier: string;
  readonly repairs: number;
  readonly did_not_hold: number;
  readonly taken_back: number;
  readonly in_doubt: number;
}

/** Repairs counted one by one; with `only` those in doubt alone. */
async function countLive(
  db: Db,
  edge: Stretch & Partial<Edge>,
  by: RepairGrouping,
  only?: 'in-doubt',
): Promise<Counted[]> {
  let inside = closedIn(db, edge, {}, only && firstOfReturns(db, ['in-doubt'])).where(
    'concerns.outcome',
    '=',
    'proven',
  );
  if (only) inside = inside.where(stands).where(sql<boolean>`not ${returned('diagnosis-stands')}`);
  const flagged = inside
    .distinct()
    .select([
      'concerns.id',
      sql<number>`case when ${stands} then 0 else 1 end`.as('wrong'),
      sql<number>`case when ${returned('diagnosis-stands')} then 1 else 0 end`.as('held'),
      sql<number>`case when ${returned('in-doubt')} then 1 else 0 end`.as('doubt'),
    ]);
  const parts =
    by === 'all'
      ? sql`select '' as key, '' as supplier, wrong, held, doubt from (${flagged}) as done`
      : sql`select distinct done.id, ${keyOf(by)}, wrong, held, doubt from (${flagged}) as done
          join ${sql.table(by === 'cause' ? 'concern_causes' : 'concern_parts')} as g on g.concern_id = done.id
          ${by === 'part-kind-and-supplier' ? sql`where g.kind is not null and g.supplier is not null` : sql``}`;
  const { rows } = await sql<Counted>`select key, supplier, count(*) as repairs,
    sum(case when wrong = 0 then held else 0 end) as did_not_hold, sum(wrong) as taken_back,
    sum(case when wrong = 0 and held = 0 then doubt else 0 end) as in_doubt
    from (${parts}) as grouped group by key, supplier`.execute(db);
  return rows;
}

function keyOf(by: Exclude<RepairGrouping, 'all'>): RawBuilder<unknown> {
  if (by === 'cause') return sql`coalesce(g.cause_id, '') as key, '' as supplier`;
  if (by === 'part-kind') return sql`coalesce(g.kind, '') as key, '' as supplier`;
  if (by === 'supplier') return sql`coalesce(g.supplier, '') as key, '' as supplier`;
  return sql`g.kind as key, g.supplier as supplier`;
}

/**
 * Proven repairs of a stretch by a grouping. A repair whose diagnosis a return took back counts as that; else one with a
 * return against part or work as not holding; else one with an undecided return as in doubt.
 */
export async function countRepairs(db: Db, stretch: Stretch, by: RepairGrouping): Promise<RepairCount[]> {
  const { months, edges } = await reach(db, stretch);
  const pieces: Counted[] = [];
  if (months) {
    const rows = await db
      .selectFrom('month_repairs')
      .select((eb) => [
        'key',
        'supplier',
        eb.fn.sum('repairs').as('repairs'),
        eb.fn.sum('did_not_hold').as('did_not_hold'),
        eb.fn.sum('taken_back').as('taken_back'),
      ])
      .where('grouping', '=', by)
      .where('month', '>=', months.from)
      .where('month', '<=', months.until)
      .groupBy(['key', 'supplier'])
      .execute();
    for (const { key, supplier, ...row } of rows)
      pieces.push({
        key,
        supplier,
        repairs: Number(row.repairs),
        did_not_hold: Number(row.did_not_hold),
        taken_back: Number(row.taken_back),
        in_doubt: 0,
      });
    // Doubt comes and goes with an open card; only those few are looked up.
    for (const { key, supplier, in_doubt } of await countLive(db, stretch, by, 'in-doubt'))
      pieces.push({ key, supplier, in_doubt: Number(in_doubt), repairs: 0, did_not_hold: 0, taken_back: 0 });
  }
  for (const edge of edges)
    for (const row of await countLive(db, edge, by))
      pieces.push({
        ...row,
        repairs: edge.sign * Number(row.repairs),
        did_not_hold: edge.sign * Number(row.did_not_hold),
        taken_back: edge.sign * Number(row.taken_back),
        in_doubt: months ? 0 : row.in_doubt,
      });
  const sums = new Map<string, RepairCount>();
  for (const piece of pieces) {
    const ids = by === 'part-kind-and-supplier' ? [piece.key, piece.supplier] : [piece.key];
    const before = sums.get(JSON.stringify(ids));
    sums.set(JSON.stringify(ids), {
      ids,
      repairs: (before?.repairs ?? 0) + Number(piece.repairs),
      didNotHold: (before?.didNotHold ?? 0) + Number(piece.did_not_hold),
      wrongDiagnosis: (before?.wrongDiagnosis ?? 0) + Number(piece.taken_back),
      inDoubt: (before?.inDoubt ?? 0) + Number(piece.in_doubt),
    });
  }
  return [...sums.values()].filter((row) => row.repairs > 0);
}

/** Which repairs are followed. */
export interface LifeFilter {
  readonly partKind?: string | undefined;
  readonly supplier?: string | undefined;
  readonly causeId?: string | undefined;
}

function followed(
  db: Db,
  stretch: Stretch,
  { partKind, supplier, causeId }: LifeFilter,
  from = db.selectFrom('concerns'),
) {
  let query = closedIn(db, stretch, causeId === undefined ? {} : { causeIds: [causeId] }, from).where(
    'concerns.outcome',
    '=',
    'proven',
  );
  if (partKind !== undefined || supplier !== undefined)
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_parts as fitted')
          .select('fitted.seq')
          .whereRef('fitted.concern_id', '=', 'concerns.id')
          .$if(partKind !== undefined, (q) => q.where('fitted.kind', '=', partKind ?? ''))
          .$if(supplier !== undefined, (q) => q.where('fitted.supplier', '=', supplier ?? '')),
      ),
    );
  return query;
}

/** How many repairs are followed: from the counts that are kept where one of them fits. */
async function countFollowed(db: Db, stretch: Stretch, filter: LifeFilter): Promise<number> {
  const { partKind, supplier, causeId } = filter;
  const isPart = partKind !== undefined || supplier !== undefined;
  if (causeId !== undefined && isPart) {
    const row = await followed(db, stretch, filter)
      .select((eb) => eb.fn.countAll().as('repairs'))
      .executeTakeFirst();
    return Number(row?.repairs ?? 0);
  }
  const both = partKind !== undefined && supplier !== undefined;
  const by: RepairGrouping = both
    ? 'part-kind-and-supplier'
    : partKind !== undefined
      ? 'part-kind'
      : supplier !== undefined
        ? 'supplier'
        : causeId !== undefined
          ? 'cause'
          : 'all';
  const ids = by === 'all' ? [''] : [partKind, supplier, causeId].filter((id) => id !== undefined);
  const groups = await countRepairs(db, stretch, by);
  return groups.find((group) => group.ids.every((id, place) => id === ids[place]))?.repairs ?? 0;
}

const msOfDay = 86_400_000;

/**
 * How long the repairs of a stretch were seen to hold, in whole days: until they came back and part or work was found not to
 * have held; else until they went out of sight: with a return that took the diagnosis back or is not decided, with the
 * end of the window, or now. Only what came back or is still inside of the window is looked at one by one.
 */
export async function repairLives(
  db: Db,
  stretch: Stretch,
  filter: LifeFilter,
  nowMs: number,
  windowDays: number,
): Promise<{ time: number; isEvent: boolean; count: number }[]> {
  const seen = { fromMs: stretch.fromMs, untilMs: Math.min(stretch.untilMs, nowMs + 1) };
  if (seen.fromMs >= seen.untilMs) return [];
  const watched = sql<number>`(cast(${nowMs} as bigint) - concerns.closed_ms) / ${sql.lit(msOfDay)}`;
  const counting = ['diagnosis-stands', 'diagnosis-taken-back', 'in-doubt'];
  const back = followed(db, seen, filter, firstOfReturns(db, counting))
    .select([
      'concerns.id',
      watched.as('watched'),
      sql<number>`max(case when later.comeback_state = 'diagnosis-taken-back' then 1 else 0 end)`.as('wrong'),
      sql<
        number | null
      >`min(case when later.comeback_state = 'diagnosis-stands' then coalesce(later.comeback_days, 0) end)`.as(
        'held',
      ),
      sql<number>`min(coalesce(later.comeback_days, 0))`.as('first'),
    ])
    .groupBy(['concerns.id', 'concerns.closed_ms']);
  const { rows: returns } = await sql<{ time: number; event: number; count: number }>`
    select case when event = 1 then held else case when first < sight then first else sight end end as time, event,
      count(*) as count
    from (select held, first, sight, case when wrong = 0 and held is not null and held <= sight then 1 else 0 end as event
      from (select wrong, held, first, case when watched < ${sql.lit(windowDays)} then watched else ${sql.lit(windowDays)} end as sight
        from (${back}) as back) as seen) as judged
    group by 1, 2`.execute(db);
  const recent = await followed(
    db,
    { ...seen, fromMs: Math.max(seen.fromMs, nowMs - windowDays * msOfDay + 1) },
    filter,
  )
    .where(
      sql<boolean>`not exists (select 1 from concerns as later where later.comeback_of = concerns.id
        and later.comeback_state in ('diagnosis-stands', 'diagnosis-taken-back', 'in-doubt'))`,
    )
    .select([watched.as('time'), sql<number>`count(*)`.as('count')])
    .groupBy(sql`1`)
    .execute();
  const lives = [
    ...returns.map((row) => ({
      time: Math.max(0, Number(row.time)),
      isEvent: Number(row.event) === 1,
      count: Number(row.count),
    })),
    ...recent.map((row) => ({ time: Number(row.time), isEvent: false, count: Number(row.count) })),
  ];
  const rest = (await countFollowed(db, seen, filter)) - lives.reduce((sum, life) => sum + life.count, 0);
  return rest > 0 ? [...lives, { time: windowDays, isEvent: false, count: rest }] : lives;
}
