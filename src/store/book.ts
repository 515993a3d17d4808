import { sql } from 'kysely';
import type { Db, HandbookChangeRow, HandbookEntryRow, LearnedWordsRow } from './tables.ts';

export async function loadEntries(db: Db): Promise<HandbookEntryRow[]> {
  return db.selectFrom('handbook_entries').selectAll().orderBy('path').orderBy('position').execute();
}

export async function findEntry(db: Db, kind: string, id: string): Promise<HandbookEntryRow | undefined> {
  return db
    .selectFrom('handbook_entries')
    .selectAll()
    .where('kind', '=', kind)
    .where('id', '=', id)
    .executeTakeFirst();
}

export async function saveEntry(db: Db, row: HandbookEntryRow): Promise<void> {
  await db
    .insertInto('handbook_entries')
    .values(row)
    .onConflict((on) =>
      on.columns(['kind', 'id']).doUpdateSet({
        path: row.path,
        position: row.position,
        body: row.body,
        shipped: row.shipped,
      }),
    )
    .execute();
}

export async function removeEntry(db: Db, kind: string, id: string): Promise<void> {
  await db.deleteFrom('handbook_entries').where('kind', '=', kind).where('id', '=', id).execute();
}

export async function keepChange(db: Db, row: Omit<HandbookChangeRow, 'seq'>): Promise<number> {
  const top = await db
    .selectFrom('handbook_changes')
    .select((eb) => eb.fn.max('seq').as('top'))
    .executeTakeFirst();
  const seq = Number(top?.top ?? 0) + 1;
  await db
    .insertInto('handbook_changes')
    .values({ ...row, seq })
    .execute();
  return seq;
}

export async function listChanges(
  db: Db,
  filter: { kind?: string | undefined; id?: string | undefined; before?: number | undefined; limit: number },
): Promise<HandbookChangeRow[]> {
  let query = db.selectFrom('handbook_changes').selectAll();
  if (filter.before) query = query.where('seq', '<', filter.before);
  if (filter.kind) query = query.where('kind', '=', filter.kind);
  if (filter.id) query = query.where('id', '=', filter.id);
  return query.orderBy('seq', 'desc').limit(filter.limit).execute();
}

export async function findChange(db: Db, seq: number): Promise<HandbookChangeRow | undefined> {
  return db.selectFrom('handbook_changes').selectAll().where('seq', '=', seq).executeTakeFirst();
}

export async function learnedWords(db: Db): Promise<LearnedWordsRow[]> {
  return db
    .selectFrom('learned_words')
    .selectAll()
    .where('undone_ms', 'is', null)
    .orderBy('at_ms')
    .orderBy('id')
    .execute();
}

export async function keepLearnedWords(db: Db, row: LearnedWordsRow): Promise<void> {
  await db.insertInto('learned_words').values(row).execute();
}

export async function undoLearnedWords(db: Db, id: string, nowMs: number): Promise<boolean> {
  const result = await db
    .updateTable('learned_words')
    .set({ undone_ms: nowMs })
    .where('id', '=', id)
    .where('undone_ms', 'is', null)
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

export async function readSetting(db: Db, key: string): Promise<string | null> {
  const row = await db.selectFrom('settings').select('value').where('key', '=', key).executeTakeFirst();
  return row?.value ?? null;
}

export async function readSettings(db: Db): Promise<Record<string, string>> {
  const rows = await db.selectFrom('settings').selectAll().execute();
  return Object.fromEntries(rows.map((row) => [row.key, row.value]));
}

export async function writeSetting(db: Db, key: string, value: string): Promise<void> {
  await db
    .insertInto('settings')
    .values({ key, value })
    .onConflict((on) => on.column('key').doUpdateSet({ value: sql`excluded.value` }))
    .execute();
}

export async function countRows(
  db: Db,
): Promise<{ jobs: number; closedConcerns: number; vehicles: number; customers: number }> {
  const count = async (query: { executeTakeFirst(): Promise<{ n: number } | undefined> }): Promise<number> =>
    Number((await query.executeTakeFirst())?.n ?? 0);
  return {
    jobs: await count(db.selectFrom('jobs').select((eb) => eb.fn.countAll<number>().as('n'))),
    closedConcerns: await count(
      db
        .selectFrom('concerns')
        .select((eb) => eb.fn.countAll<number>().as('n'))
        .where('state', '=', 'closed'),
    ),
    vehicles: await count(db.selectFrom('vehicles').select((eb) => eb.fn.countAll<number>().as('n'))),
    customers: await count(db.selectFrom('customers').select((eb) => eb.fn.countAll<number>().as('n'))),
  };
}
