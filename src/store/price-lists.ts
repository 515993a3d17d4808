import {
  appendFileSync,
  closeSync,
  createReadStream,
  mkdirSync,
  openSync,
  readSync,
  type Stats,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import type { Statement } from 'better-sqlite3';
import { Problem } from '../problem.ts';
import type { SupplierRow } from './parts-tables.ts';
import { asProblem, type Connection } from './sqlite.ts';
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

/** Rows that one statement takes: calls into the driver are most of the cost of an insert. */
const rowsAtOnce = 20;
/** Columns that most lists leave empty. */
const seldom = ['cost', 'core', 'gtin'] as const;
/** Titles that go into the word index together: some milliseconds of work. */
const wordsAtOnce = 16_000;

/** A row of a list on its way into the book. */
export interface IncomingPrice extends PresentPrice {
  readonly part_id: string;
  readonly number: string;
  /** Whether its title is new and is to be found by its words. */
  readonly has_new_words: boolean;
}

/** Prepared statements for one supplier's list. */
export class PriceBook {
  readonly #connection: Connection;
  readonly #supplierId: string;
  readonly #find: Statement;
  readonly #inserts = new Map<string, Statement>();
  /** What most rows of the list are priced in. */
  #currency: string | null = null;
  readonly #addWords: Statement;
  readonly #markWords: Statement;
  readonly #dropWords: Statement;
  readonly #drop: Statement;
  /** The stretch of rows that was added and whose words were not yet. */
  #wordless: { readonly generation: number; readonly from: number; to: number } | null = null;
  /** A supplier without a visible list has nothing to compare with. */
  readonly #isNew: boolean;

  constructor(connection: Connection, supplierId: string) {
    const { raw } = connection;
    this.#connection = connection;
    this.#supplierId = supplierId;
    // Newest last, so that it is the one that stays when they are put into a map.
    this.#find = raw.prepare(
      `select r.part_id, r.price, r.currency, r.title, r.cost, r.core, r.gtin
       from json_each(?) k cross join price_rows r cross join price_imports i
       where r.part_id = k.value and r.supplier_id = ? and i.generation = r.generation and i.state = 'visible'
       order by r.part_id, r.generation`,
    );
    this.#addWords = raw.prepare(
      `insert into price_words (rowid, words) select seq, title from price_rows
       where generation = ? and seq > ? and seq <= ? and in_words = 1`,
    );
    this.#dropWords = raw.prepare(
      `insert into price_words (price_words, rowid, words) select 'delete', seq, title from price_rows
       where seq > ? and seq <= ? and generation = ? and in_words = 1
         and seq <= (select worded_to from price_imports i where i.generation = price_rows.generation)`,
    );
    this.#markWords = raw.prepare('update price_imports set worded_to = ? where generation = ?');
    this.#drop = raw.prepare('delete from price_rows where seq > ? and seq <= ? and generation = ?');
    const known = raw
      .prepare("select count(*) as n from price_imports where supplier_id = ? and state = 'visible'")
      .get(supplierId) as { n: number };
    this.#isNew = known.n === 0;
  }

  /** What holds at present, by part. */
  present(partIds: readonly string[]): ReadonlyMap<string, PresentPrice> {
    if (this.#isNew) return new Map();
    const rows = this.#find.all(JSON.stringify(partIds), this.#supplierId) as (PresentPrice & {
      part_id: string;
    })[];
    return new Map(rows.map((row) => [row.part_id, row]));
  }

  /**
   * The statement for rows that are alike: what is the same in all of them stands in its text, since every value that is bound
   * costs about as much as keeping it.
   * @param currency of all rows, null where it is bound
   * @param filled the seldom columns that are bound
   */
  #insertOf(
    rows: number,
    generation: number,
    currency: string | null,
    filled: readonly string[],
    inWords: boolean | null,
  ): Statement {
    const key = `${rows} ${generation} ${currency} ${filled.join()} ${inWords}`;
    const ready = this.#inserts.get(key);
    if (ready) return ready;
    const one = [
      '?, ?, ?, ?',
      currency === null ? '?' : `'${currency}'`,
      ...seldom.map((column) => (filled.includes(column) ? '?' : 'null')),
      inWords === null ? '?' : inWords ? '1' : '0',
    ].join(', ');
    const statement = this.#connection.raw.prepare(
      `insert into price_rows (supplier_id, generation, part_id, number, title, price, currency, ${seldom.join(', ')}, in_words)
       values ${Array(rows).fill(`('${this.#supplierId}', ${generation}, ${one})`).join(', ')}`,
    );
    this.#inserts.set(key, statement);
    return statement;
  }

  /** @returns the number of the last row */
  #insert(generation: number, rows: readonly IncomingPrice[]): number {
    const [first] = rows;
    if (!first) return 0;
    // Only the first currency of a list has statements of its own: a list of many would need as many.
    this.#currency ??= /^[A-Z]{3}$/.test(first.currency) ? first.currency : null;
    const usual = this.#currency;
    const isUsual = rows.every((row) => row.currency === usual);
    const filled = seldom.filter((column) => rows.some((row) => row[column] !== null));
    const isAlike = rows.every((row) => row.has_new_words === first.has_new_words);
    const values: unknown[] = [];
    for (const row of rows) {
      values.push(row.part_id, row.number, row.title, row.price);
      if (!isUsual) values.push(row.currency);
      for (const column of filled) values.push(row[column]);
      if (!isAlike) values.push(row.has_new_words ? 1 : 0);
    }
    const statement = this.#insertOf(
      rows.length,
      generation,
      isUsual ? usual : null,
      filled,
      isAlike ? first.has_new_words : null,
    );
    return Number(statement.run(values).lastInsertRowid);
  }

  /** Inside a transaction. @param rows of different parts, best in the order of `part_id` */
  add(generation: number, rows: readonly IncomingPrice[]): void {
    if (rows.length === 0) return;
    let last = 0;
    let from = 0;
    for (; from + rowsAtOnce <= rows.length; from += rowsAtOnce)
      last = this.#insert(generation, rows.slice(from, from + rowsAtOnce));
    for (; from < rows.length; from += 1) last = this.#insert(generation, rows.slice(from, from + 1));
    // Numbers of one transaction follow each other.
    this.#wordless ??= { generation, from: last - rows.length, to: last };
    this.#wordless.to = last;
    if (last - this.#wordless.from >= wordsAtOnce) this.addWords();
  }

  /** Puts what was added into the word index: together, since each time costs it a stretch of its own. Inside a transaction. */
  addWords(): void {
    if (this.#wordless === null) return;
    const { generation, from, to } = this.#wordless;
    this.#addWords.run(generation, from, to);
    this.#markWords.run(to, generation);
    this.#wordless = null;
  }

  /**
   * Takes away, inside a transaction, what a given-up generation has among the rows numbered up to `upTo`.
   * @returns the number below which the next step goes on; 0 at the end
   */
  clear(generation: number, upTo: number, stretch: number): number {
    const from = Math.max(0, upTo - stretch);
    this.#dropWords.run(from, upTo, generation);
    this.#drop.run(from, upTo, generation);
    return from;
  }

  /** The highest number of a row. */
  get top(): number {
    const row = this.#connection.raw.prepare('select max(seq) as top from price_rows').get() as {
      top: number | null;
    };
    return row.top ?? 0;
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
  let stat: Stats;
  try {
    stat = statSync(path);
  } catch (error) {
    throw unreadable(path, error);
  }
  if (stat.isFile()) return stat.size;
  throw new Problem(
    'bad-file',
    `${path} is ${stat.isDirectory() ? 'a folder' : 'no file'}; give the list in it.`,
    {
      field: 'path',
      file: path,
    },
  );
}

/** The first bytes of a file. @throws Problem bad-file */
export function firstBytes(path: string, count: number): Uint8Array {
  try {
    const bytes = Buffer.alloc(count);
    const handle = openSync(path, 'r');
    try {
      return bytes.subarray(0, readSync(handle, bytes, 0, count, 0));
    } finally {
      closeSync(handle);
    }
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
