import type { Migration } from './columns.ts';

/** Upkeep of the catalog: a version that every change carries, parts that are no longer used, and who changed what. */
export const catalog: Migration = {
  version: 3,
  name: 'catalog',
  async up(db, c) {
    const parts = () => db.schema.alterTable('parts');
    await parts()
      .addColumn('version', c.int, (col) => col.notNull().defaultTo(1))
      .execute();
    await parts().addColumn('retired_ms', c.int).execute();
    await parts().addColumn('retired_offset', c.int).execute();
    await parts().addColumn('retired_why', c.text).execute();

    await c
      .table(db, 'part_changes')
      .addColumn('seq', c.int, (col) => col.primaryKey())
      .addColumn('part_id', c.text, (col) => col.notNull().references('parts.id'))
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('who', c.text, (col) => col.notNull())
      .addColumn('what', c.text, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('part_changes_part').on('part_changes').column('part_id').execute();
  },
};
