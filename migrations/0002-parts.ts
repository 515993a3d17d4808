import { sql } from 'kysely';
import type { Migration } from './columns.ts';

/** The catalog, suppliers' prices, stock and orders, quotes. */
export const parts: Migration = {
  version: 2,
  name: 'parts',
  async up(db, c) {
    await c
      .table(db, 'suppliers')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('name', c.text, (col) => col.notNull())
      .addColumn('mapping', c.text)
      .execute();

    // The id of a part is its number as letters and digits only.
    await c
      .table(db, 'parts')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('number', c.text, (col) => col.notNull())
      .addColumn('title', c.text, (col) => col.notNull())
      .addColumn('kind', c.text, (col) => col.notNull())
      .addColumn('component_id', c.text)
      .addColumn('maker', c.text, (col) => col.notNull())
      .addColumn('attributes', c.text, (col) => col.notNull())
      .addColumn('gtin', c.text)
      .addColumn('folded', c.text, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('parts_kind').on('parts').column('kind').execute();
    await db.schema.createIndex('parts_gtin').on('parts').column('gtin').execute();

    await c
      .table(db, 'fitments')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('part_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('model_id', c.text)
      .addColumn('family_id', c.text)
      .addColumn('year_from', c.int)
      .addColumn('year_to', c.int)
      .addColumn('frame_from', c.text)
      .addColumn('frame_to', c.text)
      .addColumn('position', c.text)
      .addColumn('note', c.text)
      .addColumn('basis', c.text, (col) => col.notNull())
      .addCheckConstraint('model_or_family', sql`model_id is not null or family_id is not null`)
      .execute();
    await db.schema.createIndex('fitments_part').on('fitments').column('part_id').execute();
    await db.schema.createIndex('fitments_model').on('fitments').column('model_id').execute();
    await db.schema.createIndex('fitments_family').on('fitments').column('family_id').execute();

    await c
      .table(db, 'supersessions')
      .addColumn('old_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('new_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('quantity', c.int, (col) => col.notNull().check(sql`quantity > 0`))
      .addColumn('note', c.text)
      .addPrimaryKeyConstraint('supersessions_key', ['old_id', 'new_id'])
      .execute();
    await db.schema.createIndex('supersessions_new').on('supersessions').column('new_id').execute();
    await c
      .table(db, 'interchange')
      .addColumn('part_id', c.text, (col) => col.primaryKey().references('parts.id'))
      .addColumn('group_id', c.text, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('interchange_group').on('interchange').column('group_id').execute();

    // A price row is seen only once its import is marked visible: that is one small commit.
    await c
      .table(db, 'price_imports')
      .addColumn('generation', c.int, (col) => col.primaryKey())
      .addColumn('supplier_id', c.text, (col) => col.notNull().references('suppliers.id'))
      .addColumn('state', c.text, (col) =>
        col.notNull().check(sql`state in ('running', 'visible', 'given-up')`),
      )
      .addColumn('file', c.text, (col) => col.notNull())
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('counts', c.text)
      .execute();
    await c
      .table(db, 'price_rows')
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
      .addPrimaryKeyConstraint('price_rows_key', ['part_id', 'supplier_id', 'generation'])
      .execute();
    await db.schema.createIndex('price_rows_generation').on('price_rows').column('generation').execute();
    await db.schema
      .createIndex('price_rows_gtin')
      .on('price_rows')
      .column('gtin')
      .where('gtin', 'is not', null)
      .execute();

    await c
      .table(db, 'stock')
      .addColumn('part_id', c.text, (col) => col.primaryKey().references('parts.id'))
      .addColumn('on_hand', c.int, (col) => col.notNull().check(sql`on_hand >= 0`))
      .addColumn('reserved', c.int, (col) => col.notNull().check(sql`reserved >= 0`))
      .addColumn('on_order', c.int, (col) => col.notNull().check(sql`on_order >= 0`))
      .addColumn('bin', c.text)
      .addColumn('minimum', c.int, (col) => col.notNull())
      .addCheckConstraint('reserved_is_there', sql`reserved <= on_hand`)
      .execute();
    await c
      .table(db, 'part_orders')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('part_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('supplier_id', c.text, (col) => col.notNull().references('suppliers.id'))
      .addColumn('job_id', c.text, (col) => col.references('jobs.id'))
      .addColumn('quantity', c.int, (col) => col.notNull().check(sql`quantity > 0`))
      .addColumn('arrived', c.int, (col) => col.notNull().check(sql`arrived >= 0 and arrived <= quantity`))
      .addColumn('expected_ms', c.int)
      .addColumn('expected_offset', c.int)
      .addColumn('made_ms', c.int, (col) => col.notNull())
      .addColumn('made_offset', c.int, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('part_orders_part').on('part_orders').column('part_id').execute();
    await db.schema.createIndex('part_orders_job').on('part_orders').column('job_id').execute();
    await c
      .table(db, 'stock_moves')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('part_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('job_id', c.text, (col) => col.references('jobs.id'))
      .addColumn('order_id', c.text, (col) => col.references('part_orders.id'))
      .addColumn('kind', c.text, (col) =>
        col.notNull().check(sql`kind in ('count', 'reserve', 'release', 'use', 'return', 'order', 'arrive')`),
      )
      .addColumn('quantity', c.int, (col) => col.notNull())
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('note', c.text)
      .execute();
    await db.schema.createIndex('stock_moves_part').on('stock_moves').column('part_id').execute();
    await db.schema.createIndex('stock_moves_job').on('stock_moves').column('job_id').execute();
    await c
      .table(db, 'held_parts')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('job_id', c.text, (col) => col.notNull().references('jobs.id'))
      .addColumn('part_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('supplier_id', c.text, (col) => col.references('suppliers.id'))
      .addColumn('why', c.text, (col) => col.notNull().check(sql`why in ('core', 'warranty')`))
      .addColumn('words', c.text, (col) => col.notNull())
      .addColumn('state', c.text, (col) => col.notNull().check(sql`state in ('held', 'sent', 'settled')`))
      .addColumn('made_ms', c.int, (col) => col.notNull())
      .addColumn('made_offset', c.int, (col) => col.notNull())
      .execute();

    await c
      .table(db, 'quotes')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('number', c.int, (col) => col.notNull().unique())
      .addColumn('version', c.int, (col) => col.notNull())
      .addColumn('job_id', c.text, (col) => col.references('jobs.id'))
      .addColumn('state', c.text, (col) =>
        col.notNull().check(sql`state in ('draft', 'issued', 'accepted', 'declined')`),
      )
      .addColumn('body', c.text, (col) => col.notNull())
      .addColumn('total', c.int, (col) => col.notNull())
      .addColumn('currency', c.text, (col) => col.notNull())
      .addColumn('answer', c.text)
      .addColumn('made_ms', c.int, (col) => col.notNull())
      .addColumn('made_offset', c.int, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('quotes_job').on('quotes').column('job_id').execute();
    // What was handed out never changes: each issue is kept as it was.
    await c
      .table(db, 'quote_issues')
      .addColumn('quote_id', c.text, (col) => col.notNull().references('quotes.id'))
      .addColumn('seq', c.int, (col) => col.notNull())
      .addColumn('body', c.text, (col) => col.notNull())
      .addColumn('total', c.int, (col) => col.notNull())
      .addColumn('issued_ms', c.int, (col) => col.notNull())
      .addColumn('issued_offset', c.int, (col) => col.notNull())
      .addColumn('valid_until', c.text, (col) => col.notNull())
      .addPrimaryKeyConstraint('quote_issues_key', ['quote_id', 'seq'])
      .execute();
  },
};
