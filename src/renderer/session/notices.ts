import { useSyncExternalStore } from 'react';

/** A short word at the foot of the window, with a way back where there is one. */
export interface Notice {
  readonly id: number;
  readonly text: string;
  readonly undo?: { readonly label: string; readonly run: () => void };
}

let notices: readonly Notice[] = [];
let next = 1;
const listeners = new Set<() => void>();

function set(list: readonly Notice[]): void {
  notices = list;
  for (const listener of listeners) listener();
}

export function dropNotice(id: number): void {
  set(notices.filter((notice) => notice.id !== id));
}

/** Says it for a while; one with an undo stays longer. Answers its id, to drop it when it no longer matters. */
export function say(text: string, undo?: Notice['undo']): number {
  const notice: Notice = { id: next++, text, ...(undo ? { undo } : {}) };
  set([...notices.slice(-2), notice]);
  setTimeout(() => dropNotice(notice.id), undo ? 12_000 : 6_000);
  return notice.id;
}

export function useNotices(): readonly Notice[] {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => notices,
  );
}
