import { useSyncExternalStore } from 'react';

export type Theme = 'system' | 'light' | 'dark';
const key = 'bench-tally-theme';
const listeners = new Set<() => void>();

function readTheme(): Theme {
  try {
    const kept = localStorage.getItem(key);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

let theme = readTheme();

/** Puts the chosen theme on the page; "system" leaves it to the computer. */
export function applyTheme(next: Theme = theme): void {
  theme = next;
  if (next === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = next;
  try {
    localStorage.setItem(key, next);
  } catch {
    // A private window keeps no choice; the page still follows it.
  }
  for (const listener of listeners) listener();
}

export function useTheme(): Theme {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => theme,
  );
}
