import { appendFileSync, createReadStream, mkdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Statement } from 'better-sqlite3';
import { Problem } from '../problem.ts';
import type { PriceRow, SupplierRow } from './parts-tables.ts';
import { asProblem, type Connection, insertMany } from './sqlite.ts';
import type { Db } from './tables.ts';

/** Loading price lists: rows go into a generation that nobody sees until one small commit makes it visible. */

export const findSupplier = (db: Db, id: string): Promise<SupplierRow | undefined> =>
  db.selectFrom('suppliers').selectAll().where('id', '=', id).executeTakeFirst();

export const listSuppliers = (db: Db): Promise<SupplierRow[]> =>
  db.selectFrom('suppliers').selectAll().orderBy('name').execute();

export async function keepSupplier(db: Db, id: string, name: string): Promise<void> {
  await db
    .insertInto('suppliers')
    .values({ id, name, mapping: null })
    .onConflict((oc) => oc.column('id').doNothing())
    .execute();
}

/** Opens a hidden generation. @returns its number */
export async function beginImport(
  db: Db,
  given: { supplierId: string; file: string; ms: number; offset: number },
): Promise<number> {
  const top = await db
    .selectFrom('price_imports')
    .select((eb) => eb.fn.max('generation').as('top'))
    .executeTakeFirst();
  const generation = Number(top?.top ?? 0) + 1;
  await db
    .insertInto('price_imports')
    .values({
      generation,
      supplier_id: given.supplierId,
      state: 'running',
      file: given.file,
      at_ms: given.ms,
      at_offset: given.offset,
      counts: null,
    })
    .execute();
  return generation;
}

/** The one small commit: the generation is seen from here on, and the mapping is remembered. */
export async function showImport(db: Db, generation: number, counts: string, mapping: string): Promise<void> {
  await db
    .updateTable('price_imports')
    .set({ state: 'visible', counts })
    .where('generation', '=', generation)
    .execute();
  await db
    .updateTable('suppliers')
    .set({ mapping })
    .where('id', 'in', (eb) =>
      eb.selectFrom('price_imports').select('supplier_id').where('generation', '=', generation),
    )
    .execute();
}

/** Generations that were begun and never shown, as after a cut of power. */
export const leftOver = (db: Db, supplierId: string): Promise<{ generation: number }[]> =>
  db
    .selectFrom('price_imports')
    .select('generation')
    .where('supplier_id', '=', supplierId)
    .where('state', '=', 'running')
    .execute();

export async function giveUpImport(db: Db, generation: number): Promise<void> {
  await db
    .updateTable('price_imports')
    .set({ state: 'given-up' })
    .where('generation', '=', generation)
    .where('state', '=', 'running')
    .execute();
}

export interface PresentPrice {
  readonly price: string;
  readonly currency: string;
  readonly title: string;
  readonly cost: string | null;
  readonly core: string | null;
  readonly gtin: string | null;
}

/** Prepared statements for one supplier's list. */
export class PriceBook {
  readonly #connection: Connection;
  readonly #supplierId: string;
  readonly #find: Statement;
  readonly #clear: Statement;
  /** A supplier without a visible list has nothing to compare with. */
  readonly #isNew: boolean;

  constructor(connection: Connection, supplierId: string) {
    this.#connection = connection;
    this.#supplierId = supplierId;
    this.#find = connection.raw.prepare(
      `select r.price, r.currency, r.title, r.cost, r.core, r.gtin from price_rows r
       join price_imports i on i.generation = r.generation
       where r.part_id = ? and r.supplier_id = ? and i.state = 'visible' order by r.generation desc limit 1`,
    );
    this.#clear = connection.raw.prepare(
      'delete from price_rows where rowid in (select rowid from price_rows where generation = ? limit ?)',
    );
    const known = connection.raw
      .prepare("select count(*) as n from price_imports where supplier_id = ? and state = 'visible'")
      .get(supplierId) as { n: number };
    this.#isNew = known.n === 0;
  }

  present(partId: string): PresentPrice | null {
    if (this.#isNew) return null;
    return (this.#find.get(partId, this.#supplierId) as PresentPrice | undefined) ?? null;
  }

  /** Inside a transaction. */
  add(generation: number, rows: readonly Omit<PriceRow, 'supplier_id' | 'generation'>[]): void {
    insertMany(
      this.#connection,
      'price_rows',
      rows.map((row) => ({
        part_id: row.part_id,
        supplier_id: this.#supplierId,
        generation,
        number: row.number,
        title: row.title,
        price: row.price,
        currency: row.currency,
        cost: row.cost,
        core: row.core,
        gtin: row.gtin,
      })),
    );
  }

  /** Takes away a block of a generation that was given up. @returns how many rows went */
  clear(generation: number, most: number): number {
    return this.#clear.run(generation, most).changes;
  }
}

/** A file piece by piece. @throws Problem bad-file naming it */
export async function* filePieces(path: string): AsyncGenerator<Uint8Array> {
  try {
    for await (const piece of createReadStream(path, { highWaterMark: 128 * 1024 }))
      yield piece as Uint8Array;
  } catch (error) {
    throw unreadable(path, error);
  }
}

const unreadable = (path: string, error: unknown): Problem => {
  const code = error instanceof Error && 'code' in error ? ` (${String(error.code)})` : '';
  return new Problem(
    'bad-file',
    `The file ${path} cannot be read${code}.`,
    { field: 'path', file: path },
    { cause: error },
  );
};

/** @throws Problem bad-file where there is no such file */
export function fileSize(path: string): number {
  try {
    const stat = statSync(path);
    if (!stat.isFile()) throw new Error('no file');
    return stat.size;
  } catch (error) {
    throw unreadable(path, error);
  }
}

/** Begins a file of rejected lines in the data folder. @returns its path */
export function startRejects(dataFolder: string, name: string, headings: string): string {
  const file = join(dataFolder, 'rejects', name);
  try {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, headings);
  } catch (error) {
    throw asProblem(error, file);
  }
  return file;
}

export function addRejects(file: string, text: string): void {
  try {
    appendFileSync(file, text);
  } catch (error) {
    throw asProblem(error, file);
  }
}
