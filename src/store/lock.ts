import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Problem } from '../problem.ts';
import { asProblem } from './sqlite.ts';

/** Which door holds the data folder: a window, a browser server, or one call from the shell. */
export type Door = 'desktop' | 'browser' | 'call';

export interface LockNote {
  readonly pid: number;
  readonly door: Door;
  /** Where the browser door answers; null for other doors. */
  readonly address: string | null;
  readonly since: string;
}

export interface Held {
  readonly note: LockNote;
  /** Writes the address once it is known. */
  tell(address: string): void;
  release(): void;
}

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
};

function readNote(file: string): LockNote | null {
  try {
    const note = JSON.parse(readFileSync(file, 'utf8')) as LockNote;
    return typeof note.pid === 'number' ? note : null;
  } catch {
    return null;
  }
}

const lockFolder = (dataFolder: string): string => join(dataFolder, 'in-use');
const exclusiveFile = (dataFolder: string): string => join(dataFolder, 'exclusive.lock');

/** Every living program that has this data folder open; notes of dead ones are removed. */
export function whoIsThere(dataFolder: string): LockNote[] {
  const folder = lockFolder(dataFolder);
  let files: string[];
  try {
    files = readdirSync(folder).filter((name) => name.endsWith('.json'));
  } catch {
    return [];
  }
  const notes: LockNote[] = [];
  for (const name of files) {
    const note = readNote(join(folder, name));
    if (note && isAlive(note.pid)) notes.push(note);
    else rmSync(join(folder, name), { force: true });
  }
  return notes;
}

/** The window or browser server that owns the folder, if one is alive and it is not this program. */
export function ownerOf(dataFolder: string): LockNote | null {
  return whoIsThere(dataFolder).find((note) => note.door !== 'call' && note.pid !== process.pid) ?? null;
}

const pause = (ms: number): void => {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms);
};

function writeNote(file: string, note: LockNote): void {
  const fresh = `${file}.new`;
  // The address carries a code: for this user's eyes only.
  writeFileSync(fresh, JSON.stringify(note), { mode: 0o600 });
  renameSync(fresh, file);
}

function exclusiveHolder(dataFolder: string): LockNote | null {
  const holder = readNote(exclusiveFile(dataFolder));
  return holder && holder.pid !== process.pid && isAlive(holder.pid) ? holder : null;
}

/**
 * Registers this program with the data folder. Waits up to 10 s while a migration or a restore holds it alone.
 * @throws Problem database-busy, cannot-write
 */
export function holdFolder(dataFolder: string, door: Door, nowMs: number): Held {
  const file = join(lockFolder(dataFolder), `${process.pid}-${door}.json`);
  let note: LockNote = { pid: process.pid, door, address: null, since: new Date(nowMs).toISOString() };
  for (let tries = 0; ; tries += 1) {
    if (!exclusiveHolder(dataFolder)) {
      try {
        writeNote(file, note);
      } catch (error) {
        throw asProblem(error, dataFolder);
      }
      // Whoever took the folder alone in this very moment has not seen the note: step back and wait.
      if (!exclusiveHolder(dataFolder)) break;
      rmSync(file, { force: true });
    }
    if (tries >= 200)
      throw new Problem('database-busy', 'The shop data is being upgraded or restored by another program.', {
        file: dataFolder,
      });
    pause(50);
  }
  return {
    get note() {
      return note;
    },
    tell(address) {
      note = { ...note, address };
      writeNote(file, note);
    },
    release() {
      rmSync(file, { force: true });
    },
  };
}

/** @throws Problem cannot-write */
export function makeFolders(dataFolder: string): void {
  try {
    mkdirSync(lockFolder(dataFolder), { recursive: true });
    mkdirSync(join(dataFolder, 'backups'), { recursive: true });
  } catch (error) {
    throw asProblem(error, dataFolder);
  }
}

/**
 * Runs a step that nobody else may be near: migration, restore. Others that start meanwhile wait.
 * @throws Problem database-busy naming the door that is open
 */
export async function alone<T>(dataFolder: string, step: () => Promise<T>): Promise<T> {
  const file = exclusiveFile(dataFolder);
  const claim = JSON.stringify({ pid: process.pid, door: 'call', address: null, since: '' });
  for (let tries = 0; ; tries += 1) {
    try {
      writeFileSync(file, claim, { flag: 'wx' });
      break;
    } catch (error) {
      const holder = readNote(file);
      const taken = error instanceof Error && 'code' in error && error.code === 'EEXIST';
      if (!taken) throw asProblem(error, dataFolder);
      if (!holder || !isAlive(holder.pid)) rmSync(file, { force: true });
      else if (tries >= 200) throw new Problem('database-busy', undefined, { file: dataFolder });
      else pause(50);
    }
  }
  try {
    const others = whoIsThere(dataFolder).filter((note) => note.pid !== process.pid);
    if (others.length > 0)
      throw new Problem(
        'database-busy',
        `Another window of Bench Tally has the shop data open (${others.map((note) => `${note.door}, process ${note.pid}`).join('; ')}). Close it first.`,
        { file: dataFolder },
      );
    return await step();
  } finally {
    rmSync(file, { force: true });
  }
}
