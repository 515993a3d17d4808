import { closeSync, existsSync, openSync, readdirSync, readSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { Problem } from '../problem.ts';
import { alone, type Door, type Held, holdFolder, makeFolders } from './lock.ts';
import { latestSchema, migrate, refuseNewer, schemaVersion } from './migrate.ts';
import { type Connection, inTransaction, keepsLog, looksLikeDatabase, openConnection } from './sqlite.ts';
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

/**
 * A file that is none of ours is left alone to the byte, so this looks before anything is opened for writing. A file of no bytes
 * is a first start that was cut short, unless backups show that there was a shop.
 * @throws Problem damaged-database where the file is there but is no database of a shop
 */
function refuseStrangers(dataFolder: string): void {
  const file = databaseFile(dataFolder);
  if (!existsSync(file)) return;
  if (!statSync(file).isFile())
    throw new Problem('damaged-database', 'Where the shop data should be there is something else.', { file });
  const first = Buffer.alloc(20);
  let length: number;
  try {
    const handle = openSync(file, 'r');
    length = readSync(handle, first, 0, 20, 0);
    closeSync(handle);
  } catch (error) {
    throw new Problem('cannot-write', `The shop data at ${file} cannot be read.`, { file }, { cause: error });
  }
  if (length === 0) {
    const backups = existsSync(backupFolder(dataFolder)) ? readdirSync(backupFolder(dataFolder)) : [];
    if (backups.some((name) => name.endsWith('.db')))
      throw new Problem(
        'damaged-database',
        'The shop data file is empty, though there are backups of a shop.',
        {
          file,
        },
      );
    return;
  }
  if (!looksLikeDatabase(first)) throw new Problem('damaged-database', undefined, { file });
  // Opening for writing changes a file that keeps no log; ours has one, but for a backup just put in place.
  if (keepsLog(first)) return;
  const strange = openConnection(file, { readonly: true });
  try {
    schemaVersion(strange);
  } finally {
    strange.raw.close();
  }
}

/**
 * Opens the data folder, makes it at the first start, and brings an older form up to date after a backup.
 * @throws Problem newer-database, damaged-database, database-busy, cannot-write
 */
export async function openStore(dataFolder: string, door: Door, nowMs: number): Promise<Store> {
  makeFolders(dataFolder);
  const file = databaseFile(dataFolder);
  refuseStrangers(dataFolder);

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
