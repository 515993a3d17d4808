import Database from 'better-sqlite3';
import { Kysely, SqliteDialect, sql } from 'kysely';
import { Problem } from '../problem.ts';
import type { Db, Tables } from './tables.ts';

/** Everything that is particular to SQLite: pragmas, transactions, backup, checks, bulk loading, error codes. */

export interface Connection {
  readonly db: Kysely<Tables>;
  /** The driver itself, for bulk loading and backups. */
  readonly raw: Database.Database;
  readonly file: string;
  close(): Promise<void>;
}

const header = 'SQLite format 3';

/**
 * Opens a database file. WAL with `synchronous=FULL`: the driver's own default in WAL mode is NORMAL, which may
 * lose the last commits when the power fails.
 * @throws Problem damaged-database, database-busy, cannot-write, bad-file
 */
export function openConnection(file: string, options: { readonly: boolean }): Connection {
  try {
    const raw = new Database(file, {
      readonly: options.readonly,
      fileMustExist: options.readonly,
      timeout: 5000,
    });
    try {
      if (!options.readonly) raw.pragma('journal_mode = WAL');
      raw.pragma('synchronous = FULL');
      raw.pragma('foreign_keys = ON');
      raw.pragma('trusted_schema = OFF');
      raw.pragma('cache_size = -32000');
      raw.prepare('select count(*) from sqlite_schema').get();
    } catch (error) {
      raw.close();
      throw error;
    }
    const db = new Kysely<Tables>({ dialect: new SqliteDialect({ database: raw }) });
    return { db, raw, file, close: () => db.destroy() };
  } catch (error) {
    throw asProblem(error, file);
  }
}

/** Turns the driver's codes into the program's own; anything else is passed through. */
export function asProblem(error: unknown, file: string): unknown {
  if (error instanceof Problem || !(error instanceof Error)) return error;
  const code = 'code' in error && typeof error.code === 'string' ? error.code : '';
  const where = { file };
  if (code === 'SQLITE_NOTADB' || code.startsWith('SQLITE_CORRUPT'))
    return new Problem('damaged-database', undefined, where, { cause: error });
  if (code.startsWith('SQLITE_BUSY') || code === 'SQLITE_LOCKED')
    return new Problem('database-busy', undefined, where, { cause: error });
  if (
    /^SQLITE_(READONLY|FULL|CANTOPEN|PERM|IOERR)/.test(code) ||
    ['EACCES', 'EROFS', 'ENOSPC', 'EPERM', 'ENOTDIR', 'EEXIST', 'EISDIR', 'ENOENT'].includes(code)
  )
    return new Problem(
      'cannot-write',
      `The shop data at ${file} cannot be written (${code}): the disk is full, or the folder is missing or read-only.`,
      where,
      { cause: error },
    );
  return error;
}

/**
 * Runs `step` in one transaction that takes the write lock at once, so that a second program writing at the same
 * moment waits instead of failing half way.
 */
export async function inTransaction<T>(connection: Connection, step: (db: Db) => Promise<T>): Promise<T> {
  return connection.db.connection().execute(async (db) => {
    try {
      await sql`begin immediate`.execute(db);
      try {
        const result = await step(db);
        await sql`commit`.execute(db);
        return result;
      } catch (error) {
        if (connection.raw.inTransaction) await sql`rollback`.execute(db);
        throw error;
      }
    } catch (error) {
      throw asProblem(error, connection.file);
    }
  });
}

/**
 * Runs a step of a bulk load in a transaction of its own, in one go. Its commit does not wait for the disk: nothing of a load is
 * seen before the commit that ends it, and that one is an ordinary one, which in WAL mode carries all before it to the disk. A
 * power cut loses the last steps whole and damages nothing (SQLite, pragma synchronous: NORMAL in WAL mode).
 */
export async function inBulkTransaction<T>(connection: Connection, step: () => T): Promise<T> {
  return connection.db.connection().execute(async () => {
    const { raw } = connection;
    try {
      raw.pragma('synchronous = NORMAL');
      raw.exec('begin immediate');
      try {
        const result = step();
        raw.exec('commit');
        return result;
      } catch (error) {
        if (raw.inTransaction) raw.exec('rollback');
        throw error;
      }
    } catch (error) {
      throw asProblem(error, connection.file);
    } finally {
      raw.pragma('synchronous = FULL');
    }
  });
}

/**
 * Row numbers of a word index (see `wordIndex` of the migrations) whose text has all the words; lowest numbers first.
 * @param words letters and digits only
 * @param last whether the last one is a whole word or the beginning of one
 */
export function rowsWithWords(
  index: string,
  words: readonly string[],
  last: 'whole' | 'beginning',
  most: number,
) {
  const match = `${words.map((word) => `"${word}"`).join(' ')}${last === 'beginning' ? '*' : ''}`;
  return sql<number>`(select rowid from ${sql.table(index)} where ${sql.ref(index)} match ${match} limit ${most})`;
}

/** Online copy, whole and consistent while writing goes on, in one file that can be read where nothing can be written. */
export async function copyDatabase(connection: Connection, target: string): Promise<void> {
  try {
    await connection.raw.backup(target);
    const copy = new Database(target);
    try {
      // The copy inherits the log of the original, which would put two more files beside it wherever it is opened.
      copy.pragma('journal_mode = DELETE');
    } finally {
      copy.close();
    }
  } catch (error) {
    throw asProblem(error, target);
  }
}

/** Quick check of a database file's structure and references; empty when sound. */
export function findDamage(raw: Database.Database): string[] {
  const structure = (raw.pragma('integrity_check(20)') as { integrity_check: string }[])
    .map((row) => row.integrity_check)
    .filter((text) => text !== 'ok');
  const references = (raw.pragma('foreign_key_check') as { table: string }[]).map(
    (row) => `a row of ${row.table} refers to something that is not there`,
  );
  return [...structure, ...references.slice(0, 20)];
}

/** Tells a database file from any other by its first bytes, without opening it. */
export function looksLikeDatabase(firstBytes: Buffer): boolean {
  return firstBytes.subarray(0, header.length).toString('latin1') === header;
}

/** Whether a database file writes ahead, by its first 20 bytes (SQLite database file format, file format version numbers). */
export const keepsLog = (firstBytes: Buffer): boolean => firstBytes[18] === 2;

/** A change counter that moves when another program wrote to the file. */
export function changedElsewhere(connection: Connection): number {
  return Number(connection.raw.pragma('data_version', { simple: true }));
}

/**
 * Inserts rows with one prepared statement inside the running transaction: 14 times faster than building a
 * statement per row. Every row must have the columns of the first.
 */
export function insertMany<T extends keyof Tables>(
  connection: Connection,
  table: T,
  rows: Iterable<Tables[T]>,
): number {
  let insert: Database.Statement | null = null;
  let columns: (keyof Tables[T] & string)[] = [];
  let count = 0;
  for (const row of rows) {
    if (!insert) {
      columns = Object.keys(row) as (keyof Tables[T] & string)[];
      const names = columns.map((name) => `"${name}"`).join(', ');
      const slots = columns.map(() => '?').join(', ');
      insert = connection.raw.prepare(`insert into "${table}" (${names}) values (${slots})`);
    }
    insert.run(columns.map((name) => row[name]));
    count += 1;
  }
  return count;
}
