import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { Problem } from '../problem.ts';
import { alone, type Door, type Held, holdFolder, makeFolders } from './lock.ts';
import { latestSchema, migrate, refuseNewer } from './migrate.ts';
import { type Connection, inTransaction, looksLikeDatabase, openConnection } from './sqlite.ts';
import type { Db } from './tables.ts';

/** The shop's data, open for writing. */
export interface Store {
  readonly dataFolder: string;
  readonly connection: Connection;
  readonly held: Held;
  /** Backup made before an upgrade at this opening. */
  readonly upgradedFrom: string | null;
  /** Runs a step in one transaction. */
  write<T>(step: (db: Db) => Promise<T>): Promise<T>;
  readonly db: Db;
  close(): Promise<void>;
}

export const databaseFile = (dataFolder: string): string => join(dataFolder, 'shop.db');
export const backupFolder = (dataFolder: string): string => join(dataFolder, 'backups');

/** @throws Problem damaged-database where the file is there but is no database */
function refuseStrangers(file: string): void {
  if (!existsSync(file)) return;
  if (!statSync(file).isFile())
    throw new Problem('damaged-database', 'Where the shop data should be there is something else.', { file });
  const first = Buffer.alloc(16);
  let length: number;
  try {
    const handle = openSync(file, 'r');
    length = readSync(handle, first, 0, 16, 0);
    closeSync(handle);
  } catch (error) {
    throw new Problem('cannot-write', `The shop data at ${file} cannot be read.`, { file }, { cause: error });
  }
  if (length > 0 && !looksLikeDatabase(first)) throw new Problem('damaged-database', undefined, { file });
}

/**
 * Opens the data folder, makes it at the first start, and brings an older form up to date after a backup.
 * @throws Problem newer-database, damaged-database, database-busy, cannot-write
 */
export async function openStore(dataFolder: string, door: Door, nowMs: number): Promise<Store> {
  makeFolders(dataFolder);
  const file = databaseFile(dataFolder);
  refuseStrangers(file);

  let upgradedFrom: string | null = null;
  let held: Held | null = null;
  if (!existsSync(file) || (await peekVersion(file)) < latestSchema) {
    await alone(dataFolder, async () => {
      const connection = openConnection(file, { readonly: false });
      try {
        upgradedFrom = await migrate(connection, backupFolder(dataFolder), nowMs);
      } finally {
        await connection.close();
      }
      held = holdFolder(dataFolder, door, nowMs);
    });
  }
  const mine = held ?? holdFolder(dataFolder, door, nowMs);
  try {
    const connection = openConnection(file, { readonly: false });
    refuseNewer(connection);
    return {
      dataFolder,
      connection,
      held: mine,
      upgradedFrom,
      db: connection.db,
      write: (step) => inTransaction(connection, step),
      close: async () => {
        await connection.close();
        mine.release();
      },
    };
  } catch (error) {
    mine.release();
    throw error;
  }
}

async function peekVersion(file: string): Promise<number> {
  const connection = openConnection(file, { readonly: false });
  try {
    return refuseNewer(connection);
  } finally {
    await connection.close();
  }
}

/** A second connection that only reads, for reports; the file must be there. */
export async function openReader(dataFolder: string): Promise<Connection> {
  const connection = openConnection(databaseFile(dataFolder), { readonly: true });
  refuseNewer(connection);
  return connection;
}
