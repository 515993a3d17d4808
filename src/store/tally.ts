import { type RawBuilder, sql } from 'kysely';
import type { Db, Tables } from './tables.ts';

type TallyTableRow = Tables['tally'];
type ClosedTableRow = Tables['tally_closed'];

/** All rows of one symptom. */
export async function loadTally(db: Db, symptomId: string): Promise<TallyTableRow[]> {
  return db.selectFrom('tally').selectAll().where('symptom_id', '=', symptomId).execute();
}

/** How many concerns of one symptom closed how. */
export async function loadClosed(db: Db, symptomId: string): Promise<ClosedTableRow[]> {
  return db.selectFrom('tally_closed').selectAll().where('symptom_id', '=', symptomId).execute();
}

export async function loadWholeTally(db: Db): Promise<{ tally: TallyTableRow[]; closed: ClosedTableRow[] }> {
  return {
    tally: await db.selectFrom('tally').selectAll().execute(),
    closed: await db.selectFrom('tally_closed').selectAll().execute(),
  };
}

/** Adds to a row (negative takes away); a row that comes to nothing goes. */
export async function moveTally(db: Db, row: TallyTableRow): Promise<void> {
  await db
    .insertInto('tally')
    .values(row)
    .onConflict((on) =>
      on.columns(['symptom_id', 'cause_id', 'model_id', 'family_id']).doUpdateSet({
        concerns: sql`tally.concerns + excluded.concerns`,
        weight: sql`tally.weight + excluded.weight`,
      }),
    )
    .execute();
  await db
    .deleteFrom('tally')
    .where('symptom_id', '=', row.symptom_id)
    .where('concerns', '=', 0)
    .where('weight', '=', 0)
    .execute();
}

export async function moveClosed(db: Db, row: ClosedTableRow): Promise<void> {
  await db
    .insertInto('tally_closed')
    .values(row)
    .onConflict((on) =>
      on
        .columns(['symptom_id', 'outcome', 'model_id', 'family_id'])
        .doUpdateSet({ concerns: sql`tally_closed.concerns + excluded.concerns` }),
    )
    .execute();
  await db
    .deleteFrom('tally_closed')
    .where('symptom_id', '=', row.symptom_id)
    .where('concerns', '=', 0)
    .execute();
}

/** Replaces the whole tally, for a rebuild. */
export async function replaceTally(
  db: Db,
  tally: readonly TallyTableRow[],
  closed: readonly ClosedTableRow[],
): Promise<void> {
  await db.deleteFrom('tally').execute();
  await db.deleteFrom('tally_closed').execute();
  for (const row of tally) await db.insertInto('tally').values(row).execute();
  for (const row of closed) await db.insertInto('tally_closed').values(row).execute();
}

/** What a proof counts, in whole numbers, and the id that stands for a cause that the book lacks. */
export interface TallyTerms {
  readonly weights: Readonly<Record<'retested' | 'replaced' | 'measured', number>>;
  readonly unlisted: string;
}

/** Proven concerns that stand, with the weight of their proof. */
const standing = ({
  weights,
}: TallyTerms) => sql`select c.id, c.symptom_id, coalesce(c.model_id, '') as model_id,
    coalesce(c.family_id, '') as family_id, case c.proof when 'retested' then ${sql.lit(weights.retested)}
      when 'replaced' then ${sql.lit(weights.replaced)} else ${sql.lit(weights.measured)} end as weight
  from concerns as c where c.state = 'closed' and c.outcome = 'proven' and c.proof is not null
    and c.symptom_id is not null and not exists (select 1 from concerns as later
      where later.comeback_of = c.id and later.comeback_state = 'diagnosis-taken-back')`;

/** Each cause once, by id; nearly every concern has one, and only the others need to be put in order. */
const freshTally = (terms: TallyTerms) => {
  const cause = sql`coalesce(cause_id, ${sql.lit(terms.unlisted)}) as cause_id`;
  const several = sql`select concern_id from concern_causes where seq > 0`;
  return sql`select symptom_id, cause_id, model_id, family_id, count(*) as concerns,
      sum(weight / causes + case when place < weight % causes then 1 else 0 end) as weight
    from (
      select s.*, g.cause_id, 0 as place, 1 as causes from (${standing(terms)}) as s
        join (select concern_id, ${cause} from concern_causes where concern_id not in (${several})) as g on g.concern_id = s.id
      union all
      select s.*, g.cause_id, row_number() over (partition by g.concern_id order by g.cause_id) - 1 as place,
          count(*) over (partition by g.concern_id) as causes
        from (select distinct concern_id, ${cause} from concern_causes where concern_id in (${several})) as g
          join (${standing(terms)}) as s on s.id = g.concern_id
    ) as shared group by symptom_id, cause_id, model_id, family_id`;
};

const freshClosed = sql`select c.symptom_id, c.outcome, coalesce(c.model_id, '') as model_id,
    coalesce(c.family_id, '') as family_id, count(*) as concerns
  from concerns as c where c.state = 'closed' and c.outcome is not null and c.symptom_id is not null
    and (c.outcome <> 'proven' or not exists (select 1 from concerns as later
      where later.comeback_of = c.id and later.comeback_state = 'diagnosis-taken-back'))
  group by c.symptom_id, c.outcome, coalesce(c.model_id, ''), coalesce(c.family_id, '')`;

/**
 * Counts the whole tally anew from nothing but the closed concerns, inside of the database: a large ledger is never in
 * memory as a whole. The same sums as those of the ledger's `rebuildTally` and `rebuildClosed`.
 * @returns how many rows stood there that should not, or were missing
 */
export async function recountTally(db: Db, terms: TallyTerms): Promise<number> {
  const tally = ['symptom_id', 'cause_id', 'model_id', 'family_id', 'concerns', 'weight'];
  const closed = ['symptom_id', 'outcome', 'model_id', 'family_id', 'concerns'];
  return (
    (await replaceWhereWrong(db, 'tally', tally, freshTally(terms))) +
    (await replaceWhereWrong(db, 'tally_closed', closed, freshClosed))
  );
}

/**
 * Puts what a query counts in the place of a table where the two differ.
 * @returns how many rows stood there that should not, or were missing
 */
async function replaceWhereWrong(
  db: Db,
  table: string,
  names: readonly string[],
  query: RawBuilder<unknown>,
): Promise<number> {
  const fresh = `fresh_${table}`;
  const columns = sql.join(names.map((name) => sql.ref(name)));
  const from = (name: string) => sql`select ${columns} from ${sql.table(name)}`;
  await sql`drop table if exists ${sql.table(fresh)}`.execute(db);
  await sql`create temporary table ${sql.table(fresh)} as ${query}`.execute(db);
  const { rows } = await sql<{ rows: number }>`select
    (select count(*) from (${from(table)} except ${from(fresh)}) as gone)
    + (select count(*) from (${from(fresh)} except ${from(table)}) as missing) as rows`.execute(db);
  const wrong = Number(rows[0]?.rows ?? 0);
  if (wrong > 0) {
    await sql`delete from ${sql.table(table)}`.execute(db);
    await sql`insert into ${sql.table(table)} (${columns}) ${from(fresh)}`.execute(db);
  }
  await sql`drop table ${sql.table(fresh)}`.execute(db);
  return wrong;
}
