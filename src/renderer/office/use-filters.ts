import { useCallback } from 'react';
import { useSearchParams } from 'react-router';

/** The filters of a report live in the address, so that a view can be kept and sent. An empty value leaves it. */
export function useFilters() {
  const [params, setParams] = useSearchParams();
  const set = useCallback(
    (changes: Readonly<Record<string, string>>): void =>
      setParams(
        (before) => {
          const after = new URLSearchParams(before);
          for (const [name, value] of Object.entries(changes))
            if (value === '') after.delete(name);
            else after.set(name, value);
          return after;
        },
        { replace: true },
      ),
    [setParams],
  );
  return {
    get: (name: string): string => params.get(name) ?? '',
    /** One of the known values; anything else in an address somebody typed is the first. */
    oneOf: <T extends string>(name: string, known: readonly T[]): T =>
      known.find((value) => value === params.get(name)) ?? (known[0] as T),
    /** A whole number in the range, else the fallback. */
    whole: (name: string, fallback: number, low: number, high: number): number => {
      const value = Number(params.get(name) ?? Number.NaN);
      return Number.isInteger(value) && value >= low && value <= high ? value : fallback;
    },
    /** An id of the book as it may stand in an address. */
    slug: (name: string): string | undefined => {
      const value = params.get(name) ?? '';
      return /^[a-z0-9][a-z0-9-]{0,79}$/.test(value) ? value : undefined;
    },
    set,
  };
}
