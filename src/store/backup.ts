import { copyFileSync, existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { Problem } from '../problem.ts';
import { alone } from './lock.ts';
import { latestSchema, refuseNewer } from './migrate.ts';
import { backupFolder, databaseFile, type Store } from './open.ts';
import { asProblem, type Connection, copyDatabase, findDamage, openConnection } from './sqlite.ts';
import { stamp } from './stamp.ts';

export interface BackupFacts {
  readonly jobs: number;
  readonly vehicles: number;
  readonly newestJobMs: number | null;
  readonly schemaVersion: number;
  readonly bytes: number;
}

async function factsOf(connection: Connection): Promise<BackupFacts> {
  const schema = refuseNewer(connection);
  if (schema === 0)
    throw new Problem('bad-file', 'This is an empty database, not a backup of a shop.', {
      file: connection.file,
    });
  const damage = findDamage(connection.raw);
  if (damage.length > 0)
    throw new Problem(
      'damaged-database',
      `The backup is damaged: ${damage[0]?.split('\n').slice(0, 2).join(' ')}`,
      { file: connection.file },
    );
  const jobs = await connection.db
    .selectFrom('jobs')
    .select((eb) => [eb.fn.countAll<number>().as('n'), eb.fn.max('opened_ms').as('newest')])
    .executeTakeFirstOrThrow();
  const vehicles = await connection.db
    .selectFrom('vehicles')
    .select((eb) => eb.fn.countAll<number>().as('n'))
    .executeTakeFirstOrThrow();
  return {
    jobs: Number(jobs.n),
    vehicles: Number(vehicles.n),
    newestJobMs: jobs.newest === null ? null : Number(jobs.newest),
    schemaVersion: schema,
    bytes: statSync(connection.file).size,
  };
}

/**
 * Opens a backup for reading, checks it whole, and says what is in it.
 * @throws Problem bad-file, damaged-database, newer-database
 */
export async function inspectBackup(file: string): Promise<BackupFacts> {
  if (!existsSync(file) || !statSync(file).isFile())
    throw new Problem('bad-file', `There is no file at ${file}.`, { file, field: 'path' });
  // A copy that keeps a log gets two files beside it while it is open; nobody else would remove them.
  const beside = [`${file}-wal`, `${file}-shm`].filter((name) => !existsSync(name));
  let connection: Connection;
  try {
    connection = openConnection(file, { readonly: true });
  } catch (error) {
    if (error instanceof Problem && error.code === 'damaged-database')
      throw new Problem('bad-file', `${basename(file)} is not a backup of Bench Tally, or it is damaged.`, {
        file,
        field: 'path',
      });
    throw error;
  }
  try {
    return await factsOf(connection);
  } finally {
    await connection.close();
    for (const name of beside) rmSync(name, { force: true });
  }
}

/** Online backup, verified by opening the copy. An existing file is never overwritten. */
export async function backup(
  store: Store,
  path: string | undefined,
  nowMs: number,
): Promise<{ file: string } & BackupFacts> {
  let file = path ?? join(backupFolder(store.dataFolder), `shop-${stamp(nowMs)}.db`);
  if (!isAbsolute(file))
    throw new Problem('bad-input', `Give the whole path of the backup, not ${file}.`, { field: 'path' });
  if (!existsSync(dirname(file)))
    throw new Problem('bad-input', `There is no folder ${dirname(file)}; make it first.`, { field: 'path' });
  if (path && existsSync(path))
    throw new Problem('bad-input', `There is a file at ${path} already; a backup never overwrites.`, {
      field: 'path',
    });
  for (let n = 2; !path && existsSync(file); n += 1)
    file = join(backupFolder(store.dataFolder), `shop-${stamp(nowMs)}-${n}.db`);
  const part = `${file}.part`;
  try {
    await copyDatabase(store.connection, part);
    const facts = await inspectBackup(part);
    renameSync(part, file);
    return { file, ...facts };
  } catch (error) {
    rmSync(part, { force: true });
    throw asProblem(error, file);
  }
}

export interface BackupFile {
  readonly file: string;
  readonly atMs: number;
  readonly bytes: number;
  readonly kind: 'made' | 'before-upgrade' | 'kept-aside';
}

export function listBackups(dataFolder: string): BackupFile[] {
  const folder = backupFolder(dataFolder);
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith('.db'))
    .map((name) => {
      const file = join(folder, name);
      const facts = statSync(file);
      const kind = name.startsWith('before-upgrade')
        ? ('before-upgrade' as const)
        : name.startsWith('kept-aside')
          ? ('kept-aside' as const)
          : ('made' as const);
      return { file, atMs: facts.mtimeMs, bytes: facts.size, kind };
    })
    .sort((a, b) => b.atMs - a.atMs);
}

/**
 * Puts a backup in place of the shop data and keeps what was there aside. The caller must have closed its store; the
 * folder is held alone meanwhile, so a second window stops it.
 * @returns the file in which the former data was kept
 */
export async function restore(dataFolder: string, file: string, nowMs: number): Promise<string> {
  await inspectBackup(file);
  return alone(dataFolder, async () => {
    const live = databaseFile(dataFolder);
    let aside = join(backupFolder(dataFolder), `kept-aside-${stamp(nowMs)}.db`);
    for (let n = 2; existsSync(aside); n += 1)
      aside = join(backupFolder(dataFolder), `kept-aside-${stamp(nowMs)}-${n}.db`);
    const fresh = `${live}.incoming`;
    try {
      copyFileSync(file, fresh);
      await keepAside(live, aside);
      rmSync(`${live}-wal`, { force: true });
      rmSync(`${live}-shm`, { force: true });
      renameSync(fresh, live);
      return aside;
    } catch (error) {
      rmSync(fresh, { force: true });
      throw asProblem(error, live);
    }
  });
}

/** A sound database is copied with its log; a damaged one as the bare files it is. */
async function keepAside(live: string, aside: string): Promise<void> {
  if (!existsSync(live)) return;
  if (statSync(live).size === 0) return copyFileSync(live, aside);
  try {
    const present = openConnection(live, { readonly: false });
    try {
      await copyDatabase(present, aside);
    } finally {
      await present.close();
    }
  } catch (error) {
    if (!(error instanceof Problem) || error.code !== 'damaged-database') throw error;
    copyFileSync(live, aside);
    if (existsSync(`${live}-wal`)) copyFileSync(`${live}-wal`, `${aside}-wal`);
  }
}

export { latestSchema };
