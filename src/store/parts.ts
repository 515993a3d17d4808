import { sql } from 'kysely';
import { fold, likePattern } from './fold.ts';
import type { FitmentRow, PartRow, StockRow, SupersessionRow } from './parts-tables.ts';
import type { Db } from './tables.ts';

/** SQLite takes a limited number of values in one statement. */
const block = 500;

async function inBlocks<T>(
  ids: readonly string[],
  load: (some: readonly string[]) => Promise<T[]>,
): Promise<T[]> {
  const unique = [...new Set(ids)];
  const found: T[] = [];
  for (let from = 0; from < unique.length; from += block)
    found.push(...(await load(unique.slice(from, from + block))));
  return found;
}

export const partsByIds = (db: Db, ids: readonly string[]): Promise<PartRow[]> =>
  inBlocks(ids, (some) => db.selectFrom('parts').selectAll().where('id', 'in', some).execute());

export const partsOfKinds = (db: Db, kinds: readonly string[]): Promise<PartRow[]> =>
  inBlocks(kinds, (some) => db.selectFrom('parts').selectAll().where('kind', 'in', some).execute());

/** Fitments that name a model or its engine family. */
export async function fitmentsFor(db: Db, modelId: string, familyId: string | null): Promise<FitmentRow[]> {
  return db
    .selectFrom('fitments')
    .selectAll()
    .where((eb) =>
      eb.or([
        eb('model_id', '=', modelId),
        ...(familyId === null ? [] : [eb.and([eb('model_id', 'is', null), eb('family_id', '=', familyId)])]),
      ]),
    )
    .execute();
}

export const fitmentsOf = (db: Db, partId: string): Promise<FitmentRow[]> =>
  db.selectFrom('fitments').selectAll().where('part_id', '=', partId).execute();

/** All links of replacement: a shop's catalog has few, and chains must be followed whole. */
export const allSupersessions = (db: Db): Promise<SupersessionRow[]> =>
  db.selectFrom('supersessions').selectAll().execute();

export async function groupsOf(
  db: Db,
  ids: readonly string[],
): Promise<{ part_id: string; group_id: string }[]> {
  const own = await inBlocks(ids, (some) =>
    db.selectFrom('interchange').selectAll().where('part_id', 'in', some).execute(),
  );
  return inBlocks(
    own.map((row) => row.group_id),
    (some) => db.selectFrom('interchange').selectAll().where('group_id', 'in', some).execute(),
  );
}

/** Parts whose number begins with one of the keys; a whole key comes first. */
export async function partsByNumber(db: Db, keys: readonly string[], limit: number): Promise<PartRow[]> {
  const exact = await partsByIds(db, keys);
  if (exact.length >= limit) return exact;
  const starting = await db
    .selectFrom('parts')
    .selectAll()
    .where((eb) => eb.or(keys.map((key) => eb.and([eb('id', '>=', key), eb('id', '<', `${key}\uffff`)]))))
    .orderBy('id')
    .limit(limit)
    .execute();
  const seen = new Set(exact.map((row) => row.id));
  return [...exact, ...starting.filter((row) => !seen.has(row.id))];
}

export const partsByGtin = (db: Db, gtin14: string): Promise<PartRow[]> =>
  db.selectFrom('parts').selectAll().where('gtin', '=', gtin14).execute();

/** Parts whose words hold every typed word, in any order. */
export async function partsByWords(
  db: Db,
  text: string,
  filter: { readonly kinds?: readonly string[] | undefined },
  limit: number,
): Promise<PartRow[]> {
  const words = fold(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean)
    .slice(0, 8);
  let query = db.selectFrom('parts').selectAll();
  for (const word of words) query = query.where(sql<boolean>`folded like ${likePattern(word)} escape '\\'`);
  if (filter.kinds) query = query.where('kind', 'in', filter.kinds.length > 0 ? filter.kinds : ['']);
  return query.orderBy('title').orderBy('id').limit(limit).execute();
}

export const stockOf = (db: Db, ids: readonly string[]): Promise<StockRow[]> =>
  inBlocks(ids, (some) => db.selectFrom('stock').selectAll().where('part_id', 'in', some).execute());

/** Every visible price of these parts, newest first. */
export const visiblePrices = (db: Db, ids: readonly string[]) =>
  inBlocks(ids, (some) =>
    db
      .selectFrom('price_rows')
      .innerJoin('price_imports', 'price_imports.generation', 'price_rows.generation')
      .innerJoin('suppliers', 'suppliers.id', 'price_rows.supplier_id')
      .selectAll('price_rows')
      .select(['suppliers.name as supplier', 'price_imports.at_ms', 'price_imports.at_offset'])
      .where('price_rows.part_id', 'in', some)
      .where('price_imports.state', '=', 'visible')
      .orderBy('price_rows.generation', 'desc')
      .execute(),
  );
