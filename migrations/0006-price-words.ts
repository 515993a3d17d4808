import { sql } from 'kysely';
import type { Migration } from './columns.ts';

/**
 * Words of price lists can be found, a million of them too; and a list is loaded faster: rows carry a number of their own
 * that the word index points to, and no index on the generation, which only clearing up ever asked for.
 */
export const priceWords: Migration = {
  version: 6,
  name: 'price-words',
  async up(db, c) {
    // Rows of a load up to this number stand in the word index: what is given up is taken out of it as far as it got.
    await db.schema
      .alterTable('price_imports')
      .addColumn('worded_to', c.int, (col) => col.notNull().defaultTo(0))
      .execute();
    await db.schema.dropIndex('price_rows_generation').execute();
    await db.schema.dropIndex('price_rows_gtin').execute();
    await db.schema.alterTable('price_rows').renameTo('price_rows_before').execute();
    await c
      .table(db, 'price_rows')
      .addColumn('seq', c.int, (col) => col.primaryKey())
      .addColumn('part_id', c.text, (col) => col.notNull())
      .addColumn('supplier_id', c.text, (col) => col.notNull())
      .addColumn('generation', c.int, (col) => col.notNull())
      .addColumn('number', c.text, (col) => col.notNull())
      .addColumn('title', c.text, (col) => col.notNull())
      .addColumn('price', c.text, (col) => col.notNull())
      .addColumn('currency', c.text, (col) => col.notNull())
      .addColumn('cost', c.text)
      .addColumn('core', c.text)
      .addColumn('gtin', c.text)
      // Whether the title stands in the word index under this row's number: only a title that is new does.
      .addColumn('in_words', c.bool, (col) => col.notNull().defaultTo(0).check(c.boolCheck('in_words')))
      .addUniqueConstraint('price_rows_key', ['part_id', 'supplier_id', 'generation'])
      .execute();
    await sql`insert into price_rows (part_id, supplier_id, generation, number, title, price, currency, cost, core, gtin, in_words)
      select part_id, supplier_id, generation, number, title, price, currency, cost, core, gtin,
        case when title = '' then 0 else 1 end
      from price_rows_before order by generation, part_id`.execute(db);
    await db.schema.dropTable('price_rows_before').execute();
    await db.schema
      .createIndex('price_rows_gtin')
      .on('price_rows')
      .column('gtin')
      .where('gtin', 'is not', null)
      .execute();
    await c.wordIndex(db, 'price_words');
    await sql`insert into price_words (rowid, words) select seq, title from price_rows where in_words = 1`.execute(
      db,
    );
  },
};
