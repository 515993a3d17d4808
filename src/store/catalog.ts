import type { FitmentRow, PartChangeRow, PartRow, PriceRow } from './parts-tables.ts';
import type { Db } from './tables.ts';

/** Upkeep of the catalog. Every change of a part, or of what ties it, moves its version on. */

/** What a part has that nobody changed yet. */
export const neverChanged = {
  version: 1,
  retired_ms: null,
  retired_offset: null,
  retired_why: null,
} as const;

/** @returns false where somebody else was faster */
export async function updatePart(
  db: Db,
  id: string,
  ifVersion: number,
  set: Partial<Omit<PartRow, 'id' | 'version'>>,
): Promise<boolean> {
  const result = await db
    .updateTable('parts')
    .set({ ...set, version: ifVersion + 1 })
    .where('id', '=', id)
    .where('version', '=', ifVersion)
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

/** For a part whose ties changed from the other end. */
export async function touchPart(db: Db, id: string): Promise<void> {
  await db
    .updateTable('parts')
    .set((eb) => ({ version: eb('version', '+', 1) }))
    .where('id', '=', id)
    .execute();
}

export async function notePartChange(db: Db, row: Omit<PartChangeRow, 'seq'>): Promise<void> {
  await db
    .insertInto('part_changes')
    .values((eb) => ({
      ...row,
      seq: eb
        .selectFrom('part_changes')
        .select((inner) => inner.fn.coalesce(inner(inner.fn.max('seq'), '+', 1), inner.val(1)).as('next')),
    }))
    .execute();
}

/** Newest first. */
export const partChanges = (db: Db, partId: string, limit: number): Promise<PartChangeRow[]> =>
  db
    .selectFrom('part_changes')
    .selectAll()
    .where('part_id', '=', partId)
    .orderBy('seq', 'desc')
    .limit(limit)
    .execute();

export async function saveFitment(db: Db, row: FitmentRow): Promise<void> {
  const { id: _id, part_id: _part, ...set } = row;
  await db
    .insertInto('fitments')
    .values(row)
    .onConflict((oc) => oc.column('id').doUpdateSet(set))
    .execute();
}

export const findFitment = (db: Db, id: string): Promise<FitmentRow | undefined> =>
  db.selectFrom('fitments').selectAll().where('id', '=', id).executeTakeFirst();

export async function removeFitment(db: Db, id: string): Promise<void> {
  await db.deleteFrom('fitments').where('id', '=', id).execute();
}

/** Sets what replaces a number, all of it at once. */
export async function setReplacement(
  db: Db,
  oldId: string,
  by: readonly { newId: string; quantity: number; note: string | null }[],
): Promise<void> {
  await db.deleteFrom('supersessions').where('old_id', '=', oldId).execute();
  if (by.length === 0) return;
  await db
    .insertInto('supersessions')
    .values(by.map((one) => ({ old_id: oldId, new_id: one.newId, quantity: one.quantity, note: one.note })))
    .execute();
}

/** Puts parts into one group of equal parts. */
export async function setGroup(db: Db, partIds: readonly string[], groupId: string): Promise<void> {
  await db
    .insertInto('interchange')
    .values(partIds.map((part_id) => ({ part_id, group_id: groupId })))
    .onConflict((oc) => oc.column('part_id').doUpdateSet({ group_id: groupId }))
    .execute();
}

export async function leaveGroup(db: Db, partId: string): Promise<void> {
  await db.deleteFrom('interchange').where('part_id', '=', partId).execute();
}

/** A price that a person typed: a list of one row, seen at once. The remembered mapping of the supplier stays. */
export async function insertHandPrice(
  db: Db,
  row: Omit<PriceRow, 'generation'>,
  at: { ms: number; offset: number; who: string },
): Promise<void> {
  const top = await db
    .selectFrom('price_imports')
    .select((eb) => eb.fn.max('generation').as('top'))
    .executeTakeFirst();
  const generation = Number(top?.top ?? 0) + 1;
  await db
    .insertInto('price_imports')
    .values({
      generation,
      supplier_id: row.supplier_id,
      state: 'visible',
      file: `typed by ${at.who}`,
      at_ms: at.ms,
      at_offset: at.offset,
      counts: null,
    })
    .execute();
  await db
    .insertInto('price_rows')
    .values({ ...row, generation })
    .execute();
}
