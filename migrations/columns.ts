import type { ColumnDataType, CreateTableBuilder, Kysely } from 'kysely';
import { type Expression, sql } from 'kysely';

/**
 * What differs between engines when a table is made. Migrations use only this, so that the same files build the
 * tables on SQLite today and on PostgreSQL for a chain of shops.
 */
export interface Columns {
  readonly text: ColumnDataType;
  /** 64-bit integer. */
  readonly int: ColumnDataType | Expression<unknown>;
  readonly real: ColumnDataType | Expression<unknown>;
  /** True or false; on SQLite an integer that must be 0 or 1. */
  readonly bool: ColumnDataType | Expression<unknown>;
  /** Starts a table with the engine's strictest typing. */
  table(db: Kysely<unknown>, name: string): CreateTableBuilder<string, never>;
  /** The same for a table that is read by stretches of its primary key: it is kept in that order where the engine can. */
  keyedTable(db: Kysely<unknown>, name: string): CreateTableBuilder<string, never>;
  /**
   * An index of words over one column `words`, filled and asked by row number, that folds case and accents and finds beginnings of
   * words. The text itself is not kept in it.
   */
  wordIndex(db: Kysely<unknown>, name: string): Promise<unknown>;
  /** Check that a boolean column holds nothing else. */
  boolCheck(column: string): ReturnType<typeof sql<boolean>>;
}

export const sqliteColumns: Columns = {
  text: 'text',
  int: 'integer',
  real: 'real',
  bool: 'integer',
  table: (db, name) => db.schema.createTable(name).modifyEnd(sql`strict`),
  keyedTable: (db, name) => db.schema.createTable(name).modifyEnd(sql`strict, without rowid`),
  // Without positions and sizes, which only ranking and phrases need; beginnings of two and three letters are kept ready, since
  // they have the most hits.
  wordIndex: (db, name) =>
    sql`create virtual table ${sql.table(name)} using fts5 (words, content = '', columnsize = 0, detail = none,
      prefix = '2 3', tokenize = "unicode61 remove_diacritics 2")`.execute(db),
  boolCheck: (column) => sql<boolean>`${sql.ref(column)} in (0, 1)`,
};

export interface Migration {
  /** Counts up by one; never reused. */
  readonly version: number;
  readonly name: string;
  up(db: Kysely<unknown>, columns: Columns): Promise<void>;
}
