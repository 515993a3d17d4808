import { useCallback, useMemo, useRef, useState } from 'react';
import { dropDraft, keepDraft, readDraft } from './drafts.ts';

export interface Draft<T> {
  readonly value: T;
  /** The value at this moment, also right after `set` in the same step. */
  now(): T;
  set(next: T | ((before: T) => T)): void;
  /** What was typed is saved, or no longer wanted. */
  clear(): void;
  /** It was typed before this form was opened; said beside the form, with a way to clear it. */
  readonly isKept: boolean;
}

const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/**
 * A form that is kept while it is filled in, until it is saved or cleared.
 * @param name which form of which job; read once, so give the component a key where it changes
 * @param empty the form before anything is typed
 * @param suit fits what was kept to how the form is opened now
 */
export function useDraft<T>(name: string, empty: T, suit: (found: T) => T = (found) => found): Draft<T> {
  const [start] = useState(() => {
    const found = readDraft(name, empty);
    return { empty, found: found === null ? null : suit(found) };
  });
  const [value, setValue] = useState<T>(start.found ?? start.empty);
  const [isKept, setKept] = useState(start.found !== null && !isSame(start.found, start.empty));
  const latest = useRef(value);

  const set = useCallback(
    (next: T | ((before: T) => T)): void => {
      const after = typeof next === 'function' ? (next as (before: T) => T)(latest.current) : next;
      latest.current = after;
      setValue(after);
      if (isSame(after, start.empty)) {
        dropDraft(name);
        setKept(false);
      } else keepDraft(name, after);
    },
    [name, start],
  );
  const clear = useCallback((): void => {
    latest.current = start.empty;
    setValue(start.empty);
    setKept(false);
    dropDraft(name);
  }, [name, start]);
  const now = useCallback((): T => latest.current, []);
  return useMemo(() => ({ value, now, set, clear, isKept }), [value, now, set, clear, isKept]);
}
