import { toInstant } from '../words/time.ts';
import { periodDays } from './pick.tsx';
import type { Filters } from './use-filters.ts';

export interface Period {
  /** Value of the choice: days, or `chosen` for days of the calendar. */
  readonly choice: string;
  readonly from: string;
  readonly until: string;
  /** What the reports are asked. */
  readonly input: { readonly days: number } | { readonly from: string; readonly until: string };
  /** The same for an address. */
  readonly search: Readonly<Record<string, string>>;
}

const startOf = (day: string, daysLater = 0): string => {
  const [year, month, date] = day.split('-').map(Number) as [number, number, number];
  return toInstant(new Date(year, month - 1, date + daysLater));
};

/**
 * The period that an address names: so many days up to now, or from one day to another, both included.
 * @param usual days that are meant where nothing stands there
 */
export function readPeriod(filters: Filters, usual: string): Period {
  const days = filters.oneOf('days', [usual, ...periodDays.filter((each) => each !== usual)]);
  const from = filters.day('from');
  const until = filters.day('until');
  const isWhole = from !== undefined && until !== undefined;
  if (isWhole && from <= until)
    return {
      choice: 'chosen',
      from,
      until,
      input: { from: startOf(from), until: startOf(until, 1) },
      search: { from, until },
    };
  if (isWhole) filters.ignore('from', 'a period ends after it begins, so the usual one');
  else if (from !== undefined) filters.ignore('from', 'without an end the usual period');
  else if (until !== undefined) filters.ignore('until', 'without a beginning the usual period');
  return {
    choice: days,
    from: '',
    until: '',
    input: { days: Number(days) },
    search: days === usual ? {} : { days },
  };
}

/** Two days to begin with when somebody wants to choose: the last 30 days. */
export function lastThirty(now = new Date()): { from: string; until: string } {
  const day = (at: Date): string => toInstant(at).slice(0, 10);
  const start = new Date(now);
  start.setDate(now.getDate() - 29);
  return { from: day(start), until: day(now) };
}
