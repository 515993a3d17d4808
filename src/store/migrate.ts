import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Kysely } from 'kysely';
import { type Migration, migrations, sqliteColumns } from '../../migrations/index.ts';
import { Problem } from '../problem.ts';
import { type Connection, copyDatabase, inTransaction } from './sqlite.ts';
import { stamp } from './stamp.ts';

export const latestSchema = migrations.reduce(
  (highest, migration) => Math.max(highest, migration.version),
  0,
);

/** Version of the schema in the file; 0 for a new file. */
export function schemaVersion(connection: Connection): number {
  const table = connection.raw
    .prepare("select name from sqlite_schema where type = 'table' and name = 'schema_version'")
    .get();
  if (!table) {
    const strangers = connection.raw
      .prepare("select count(*) as n from sqlite_schema where type = 'table'")
      .get() as {
      n: number;
    };
    if (strangers.n > 0)
      throw new Problem('damaged-database', 'This is a database of some other program.', {
        file: connection.file,
      });
    return 0;
  }
  // By the driver itself: inside a transaction the query builder would wait for its own connection.
  const row = connection.raw.prepare('select max(version) as version from schema_version').get() as {
    version: number | null;
  };
  return row.version ?? 0;
}

/** @throws Problem newer-database where the file was written by a later version; the file is left alone. */
export function refuseNewer(connection: Connection): number {
  const version = schemaVersion(connection);
  if (version > latestSchema)
    throw new Problem(
      'newer-database',
      `The shop data has form ${version}; this version of Bench Tally knows forms up to ${latestSchema}. It was left alone.`,
      { file: connection.file },
    );
  return version;
}

/**
 * Brings the file to the present form, each step in one transaction, after a backup copy of what was there.
 * @returns the backup made before an upgrade, or null
 */
export async function migrate(
  connection: Connection,
  backupFolder: string,
  nowMs: number,
  steps: readonly Migration[] = migrations,
): Promise<string | null> {
  const present = refuseNewer(connection);
  const due = steps.filter((migration) => migration.version > present);
  if (due.length === 0) return null;
  let backup: string | null = null;
  if (present > 0) {
    backup = join(backupFolder, `before-upgrade-${stamp(nowMs)}.db`);
    for (let n = 2; existsSync(backup); n += 1)
      backup = join(backupFolder, `before-upgrade-${stamp(nowMs)}-${n}.db`);
    await copyDatabase(connection, backup);
  }
  for (const migration of due) {
    await inTransaction(connection, async (trx) => {
      const db = trx as unknown as Kysely<unknown>;
      // Another program may have done this step while we waited for the lock.
      if (schemaVersion(connection) >= migration.version) return;
      if (migration.version === 1)
        await sqliteColumns
          .table(db, 'schema_version')
          .addColumn('version', sqliteColumns.int, (col) => col.primaryKey())
          .addColumn('name', sqliteColumns.text, (col) => col.notNull())
          .addColumn('at_ms', sqliteColumns.int, (col) => col.notNull())
          .execute();
      await migration.up(db, sqliteColumns);
      await trx
        .insertInto('schema_version')
        .values({ version: migration.version, name: migration.name, at_ms: nowMs })
        .execute();
    });
  }
  return backup;
}
