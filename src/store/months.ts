import { type Kysely, sql } from 'kysely';
import { countMonths } from '../../migrations/index.ts';
import type { MonthRows } from '../ledger/index.ts';
import type { Db, MonthTables } from './tables.ts';

type Table = keyof MonthTables & string;

/** Which columns name a row, and which are added up. */
const shapes: Readonly<
  Record<Table, { readonly keys: readonly string[]; readonly sums: readonly string[] }>
> = {
  month_concerns: { keys: ['month', 'model_id', 'family_id', 'symptom_id'], sums: ['concerns', 'visits'] },
  month_causes: { keys: ['month', 'cause_id', 'model_id', 'family_id', 'symptom_id'], sums: ['concerns'] },
  month_repairs: {
    keys: ['month', 'grouping', 'key', 'supplier'],
    sums: ['repairs', 'did_not_hold', 'taken_back'],
  },
  day_parts: { keys: ['day', 'kind'], sums: ['quantity'] },
};

/** Adds to a row; one that comes to nothing goes. */
async function move(db: Db, table: Table, row: Readonly<Record<string, string | number>>): Promise<void> {
  const { keys, sums } = shapes[table];
  const columns = [...keys, ...sums];
  await sql`insert into ${sql.table(table)} (${sql.join(columns.map((name) => sql.ref(name)))})
    values (${sql.join(columns.map((name) => row[name]))})
    on conflict (${sql.join(keys.map((name) => sql.ref(name)))}) do update set
    ${sql.join(sums.map((name) => sql`${sql.ref(name)} = ${sql.ref(`${table}.${name}`)} + ${sql.ref(`excluded.${name}`)}`))}`.execute(
    db,
  );
  if (sums.every((name) => Number(row[name]) >= 0)) return;
  await sql`delete from ${sql.table(table)} where
    ${sql.join(
      [
        ...keys.map((name) => sql`${sql.ref(name)} = ${row[name]}`),
        ...sums.map((name) => sql`${sql.ref(name)} = 0`),
      ],
      sql` and `,
    )}`.execute(db);
}

/** Adds rows to the counts by month (negative numbers take away). */
export async function moveMonths(db: Db, { months, causes, repairs, used }: MonthRows): Promise<void> {
  for (const { modelId, familyId, symptomId, ...row } of months)
    await move(db, 'month_concerns', {
      ...row,
      model_id: modelId,
      family_id: familyId,
      symptom_id: symptomId,
    });
  for (const { causeId, modelId, familyId, symptomId, ...row } of causes)
    await move(db, 'month_causes', {
      ...row,
      cause_id: causeId,
      model_id: modelId,
      family_id: familyId,
      symptom_id: symptomId,
    });
  for (const { didNotHold, takenBack, ...row } of repairs)
    await move(db, 'month_repairs', { ...row, did_not_hold: didNotHold, taken_back: takenBack });
  for (const row of used) await move(db, 'day_parts', { ...row });
}

/**
 * Counts the months anew from nothing but the closed concerns, inside of the database.
 * @returns how many rows stood there that should not, or were missing
 */
export async function rebuildMonths(db: Db): Promise<number> {
  let changed = 0;
  await countMonths(db as unknown as Kysely<unknown>, async (table, fresh) => {
    const { keys, sums } = shapes[table];
    const columns = sql.join([...keys, ...sums].map((name) => sql.ref(name)));
    const from = (name: string) => sql`select ${columns} from ${sql.table(name)}`;
    const { rows } = await sql<{ rows: number }>`select
      (select count(*) from (${from(table)} except ${from(fresh)}) as gone)
      + (select count(*) from (${from(fresh)} except ${from(table)}) as missing) as rows`.execute(db);
    const wrong = Number(rows[0]?.rows ?? 0);
    if (wrong === 0) return;
    changed += wrong;
    await sql`delete from ${sql.table(table)}`.execute(db);
    await sql`insert into ${sql.table(table)} (${columns}) ${from(fresh)}`.execute(db);
  });
  return changed;
}
