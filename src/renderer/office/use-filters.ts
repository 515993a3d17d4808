import { useCallback } from 'react';
import { useSearchParams } from 'react-router';

/** Something in the address that this page could not take, with what it shows instead. */
export interface Ignored {
  readonly name: string;
  readonly value: string;
  readonly instead: string;
}

export interface Filters {
  /** The words of the address as they stand there; empty where there are none. */
  get(name: string): string;
  /** One of the known values; anything else in an address somebody typed is the first. */
  oneOf<T extends string>(name: string, known: readonly T[]): T;
  /** An id of the book as it may stand in an address. */
  slug(name: string): string | undefined;
  /** A day of the calendar, as 2026-11-25. */
  day(name: string): string | undefined;
  /** An empty value leaves the address. */
  set(changes: Readonly<Record<string, string>>): void;
  /** Says that a value was not taken. */
  ignore(name: string, instead: string): void;
  /** What was not understood so far, in the order it was asked for. */
  readonly ignored: readonly Ignored[];
}

/** A day that the calendar has, in years that a shop can mean. */
export function isDay(text: string): boolean {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!parts) return false;
  const [year, month, day] = parts.slice(1).map(Number) as [number, number, number];
  const at = new Date(Date.UTC(year, month - 1, day));
  return year >= 1900 && year <= 2200 && at.getUTCMonth() === month - 1 && at.getUTCDate() === day;
}

const isSlug = (text: string): boolean => /^[a-z0-9][a-z0-9-]{0,79}$/.test(text);

/** Reads the filters of a report from an address. Whatever stands there, the answer is something the report can show. */
export function readFilters(params: URLSearchParams, set: Filters['set']): Filters {
  const ignored: Ignored[] = [];
  const get = (name: string): string => params.get(name) ?? '';
  const ignore = (name: string, instead: string): void => {
    if (!ignored.some((one) => one.name === name)) ignored.push({ name, value: get(name), instead });
  };
  const checked = (name: string, isRight: (text: string) => boolean, instead: string): string | undefined => {
    const value = get(name).trim();
    if (value === '') return undefined;
    if (isRight(value)) return value;
    ignore(name, instead);
    return undefined;
  };
  return {
    get,
    set,
    ignore,
    ignored,
    oneOf: (name, known) => {
      const found = known.find((value) => value === get(name));
      if (found === undefined && get(name) !== '') ignore(name, 'the usual choice');
      return found ?? (known[0] as (typeof known)[number]);
    },
    slug: (name) => checked(name, isSlug, 'all'),
    day: (name) => checked(name, isDay, 'the usual period'),
  };
}

/** The filters of a report live in the address, so that a view can be kept and sent. */
export function useFilters(): Filters {
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
  return readFilters(params, set);
}
