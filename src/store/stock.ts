import { sql } from 'kysely';
import type { HeldPartRow, PartOrderRow, PartRow, StockMoveRow, StockRow } from './parts-tables.ts';
import type { Db } from './tables.ts';

/** The shelf. Every change is a move with an id, and the sums on the row change in the same transaction. */

const empty = (partId: string): StockRow => ({
  part_id: partId,
  on_hand: 0,
  reserved: 0,
  on_order: 0,
  bin: null,
  minimum: 0,
});

export async function stockRow(db: Db, partId: string): Promise<StockRow> {
  const row = await db.selectFrom('stock').selectAll().where('part_id', '=', partId).executeTakeFirst();
  return row ?? empty(partId);
}

export async function saveStock(db: Db, row: StockRow): Promise<void> {
  const { part_id, ...set } = row;
  await db
    .insertInto('stock')
    .values(row)
    .onConflict((oc) => oc.column('part_id').doUpdateSet(set))
    .execute();
}

export async function insertMove(db: Db, row: StockMoveRow): Promise<void> {
  await db.insertInto('stock_moves').values(row).execute();
}

/** How many of a part are reserved for a job and used on it, from the moves. */
export async function heldByJob(
  db: Db,
  jobId: string,
  partId: string,
): Promise<{ reserved: number; used: number }> {
  const rows = await db
    .selectFrom('stock_moves')
    .select(['kind', (eb) => eb.fn.sum<number>('quantity').as('n')])
    .where('job_id', '=', jobId)
    .where('part_id', '=', partId)
    .groupBy('kind')
    .execute();
  const of = (kind: StockMoveRow['kind']): number => Number(rows.find((row) => row.kind === kind)?.n ?? 0);
  return { reserved: of('reserve') - of('release'), used: of('use') - of('return') };
}

export async function partsOfJob(db: Db, jobId: string): Promise<string[]> {
  const rows = await db
    .selectFrom('stock_moves')
    .select('part_id')
    .distinct()
    .where('job_id', '=', jobId)
    .execute();
  return rows.map((row) => row.part_id);
}

export const lowStock = (db: Db, limit: number): Promise<StockRow[]> =>
  db
    .selectFrom('stock')
    .selectAll()
    .where(sql<boolean>`on_hand - reserved + on_order < minimum`)
    .orderBy('part_id')
    .limit(limit)
    .execute();

export const onShelf = (db: Db, limit: number): Promise<StockRow[]> =>
  db
    .selectFrom('stock')
    .selectAll()
    .where('on_hand', '>', 0)
    .orderBy('bin')
    .orderBy('part_id')
    .limit(limit)
    .execute();

export const findOrder = (db: Db, id: string): Promise<PartOrderRow | undefined> =>
  db.selectFrom('part_orders').selectAll().where('id', '=', id).executeTakeFirst();

export async function insertOrder(db: Db, row: PartOrderRow): Promise<void> {
  await db.insertInto('part_orders').values(row).execute();
}

export async function addArrived(db: Db, orderId: string, quantity: number): Promise<void> {
  await db
    .updateTable('part_orders')
    .set({ arrived: sql`arrived + ${quantity}` })
    .where('id', '=', orderId)
    .execute();
}

/** Orders of which something is still to come, the first expected first; of a job also those that arrived. */
export async function listOrders(db: Db, jobId: string | undefined, limit: number): Promise<PartOrderRow[]> {
  let query = db.selectFrom('part_orders').selectAll();
  query =
    jobId === undefined ? query.whereRef('arrived', '<', 'quantity') : query.where('job_id', '=', jobId);
  return query.orderBy('expected_ms').orderBy('made_ms').limit(limit).execute();
}

export const findHeld = (db: Db, id: string): Promise<HeldPartRow | undefined> =>
  db.selectFrom('held_parts').selectAll().where('id', '=', id).executeTakeFirst();

export async function saveHeld(db: Db, row: HeldPartRow): Promise<void> {
  await db
    .insertInto('held_parts')
    .values(row)
    .onConflict((oc) =>
      oc.column('id').doUpdateSet({ state: row.state, words: row.words, supplier_id: row.supplier_id }),
    )
    .execute();
}

export async function listHeld(db: Db, jobId: string | undefined, limit: number): Promise<HeldPartRow[]> {
  let query = db.selectFrom('held_parts').selectAll();
  query = jobId === undefined ? query.where('state', '<>', 'settled') : query.where('job_id', '=', jobId);
  return query.orderBy('made_ms', 'desc').limit(limit).execute();
}

export async function insertPart(db: Db, row: PartRow): Promise<void> {
  await db.insertInto('parts').values(row).execute();
}
