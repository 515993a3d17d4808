import { newId } from './new-id.ts';

// What is typed and not saved yet lives in the program's own store of this computer, one set for each window: it outlives a
// reload, a look at another place and a closed window, and two windows never write into each other's.

const prefix = 'bench-tally-draft/';
const windowKey = 'bench-tally-window';
const lockName = (windowId: string): string => `bench-tally-window/${windowId}`;
/** A draft that nobody came back to for this long is dropped. */
const keepDays = 30;
/** How long a reload may take to let go of its own name, before the name counts as taken by a copied window. */
const reloadMs = 400;

let windowId = '';

interface Kept {
  readonly at: number;
  readonly value: unknown;
}

function kept(key: string): Kept | null {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(key) ?? 'null');
    return typeof found === 'object' && found !== null && 'at' in found && 'value' in found
      ? (found as Kept)
      : null;
  } catch {
    return null;
  }
}

const own = (name: string): string => `${prefix}${windowId}/${name}`;

/**
 * What was kept under a name, in the shape of `like`; null when there is nothing or it is of another sort.
 * Fields that the kept value lacks are taken from `like`, so that a draft of an earlier version still opens.
 */
export function readDraft<T>(name: string, like: T): T | null {
  const value = kept(own(name))?.value;
  if (value === undefined || value === null || typeof value !== typeof like) return null;
  return typeof value === 'object' ? ({ ...like, ...value } as T) : (value as T);
}

export function keepDraft(name: string, value: unknown): void {
  try {
    localStorage.setItem(own(name), JSON.stringify({ at: Date.now(), value }));
  } catch {
    // Without room for the draft the text still stands in its field until the window closes.
  }
}

export function dropDraft(name: string): void {
  try {
    localStorage.removeItem(own(name));
  } catch {
    // A store that cannot be reached holds nothing to drop.
  }
}

/** Holds the name of a window as long as the window lives. Answers whether it could be had. */
function hold(id: string, waitMs: number): Promise<boolean> {
  return new Promise((resolve) => {
    navigator.locks
      .request(lockName(id), { signal: AbortSignal.timeout(waitMs) }, () => {
        resolve(true);
        return new Promise(() => {});
      })
      .catch(() => resolve(false));
  });
}

/** Drafts of other windows, by window. */
function othersDrafts(): Map<string, string[]> {
  const keys = Object.keys(localStorage).filter((key) => key.startsWith(prefix) && !key.startsWith(own('')));
  return Map.groupBy(keys, (key) => key.slice(prefix.length).split('/')[0] ?? '');
}

/** Takes over what closed windows left, where this one has nothing of the same name yet. */
async function takeOver(): Promise<void> {
  const oldest = Date.now() - keepDays * 86_400_000;
  const newestFirst = [...othersDrafts()].sort(
    ([, a], [, b]) => Math.max(...b.map(atOf)) - Math.max(...a.map(atOf)),
  );
  for (const [id, keys] of newestFirst) {
    await navigator.locks.request(lockName(id), { ifAvailable: true }, (lock) => {
      if (!lock) return;
      for (const key of keys) {
        const mine = own(key.slice(prefix.length + id.length + 1));
        const text = localStorage.getItem(key);
        if (atOf(key) < oldest) localStorage.removeItem(key);
        else if (text !== null && localStorage.getItem(mine) === null) {
          localStorage.setItem(mine, text);
          localStorage.removeItem(key);
        }
      }
    });
  }
}

const atOf = (key: string): number => kept(key)?.at ?? 0;

/** Gives this window a name of its own for its drafts; to be awaited before anything reads one. */
export async function nameWindow(): Promise<void> {
  try {
    const before = sessionStorage.getItem(windowKey);
    windowId = before ?? newId();
    if (navigator.locks) {
      // A copied window comes with the name of the first one, which still holds it.
      if (!(await hold(windowId, reloadMs))) {
        windowId = newId();
        await hold(windowId, reloadMs);
      }
      // Only a new window: a reload finds what it left and nothing else.
      if (before === null) await takeOver();
    }
    sessionStorage.setItem(windowKey, windowId);
  } catch {
    // Where the browser keeps nothing for pages, drafts live as long as the page.
    windowId ||= newId();
  }
}
