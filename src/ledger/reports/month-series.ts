import { type Counted, compareRates, type RateComparison } from './compare-rates.ts';
import { uChart } from './control-chart.ts';

export interface MonthCount {
  /** Year × 12 + month, January 0. */
  readonly month: number;
  readonly concerns: number;
  readonly visits: number;
  /** Not whole: it is left out of center, limits and comparison. */
  readonly isPartial: boolean;
}

export interface MonthPoint extends MonthCount {
  /** Per 100 visits; null without visits. */
  readonly per100: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly isOut: boolean;
}

export interface MonthSeries {
  readonly months: readonly MonthPoint[];
  /** Per 100 visits over the whole months; null without visits. */
  readonly center: number | null;
  readonly hasLimits: boolean;
  /** The newer half of the whole months against the older half; null with fewer than two, or without visits in one. */
  readonly halves: {
    readonly newer: { readonly concerns: number; readonly visits: number };
    readonly older: { readonly concerns: number; readonly visits: number };
    readonly comparison: RateComparison;
  } | null;
}

/** Months as a u-chart of concerns per visit, and the exact comparison of the newer half with the older. */
export function monthSeries(months: readonly MonthCount[]): MonthSeries {
  const sorted = [...months].sort((a, b) => a.month - b.month);
  const whole = sorted.filter((month) => !month.isPartial);
  const chart = uChart(
    whole.map((month) => month.concerns),
    whole.map((month) => month.visits / 100),
  );
  const pointOf = new Map(whole.map((month, place) => [month, chart.points[place]]));
  const half = Math.floor(whole.length / 2);
  const sum = (part: readonly MonthCount[]) => ({
    concerns: part.reduce((all, month) => all + month.concerns, 0),
    visits: part.reduce((all, month) => all + month.visits, 0),
  });
  const older = sum(whole.slice(0, half));
  const newer = sum(whole.slice(whole.length - half));
  const counted = (part: typeof older): Counted => ({ events: part.concerns, exposure: part.visits });
  return {
    months: sorted.map((month) => {
      const point = pointOf.get(month);
      return {
        ...month,
        per100: month.visits > 0 ? (100 * month.concerns) / month.visits : null,
        low: point?.low ?? null,
        high: point?.high ?? null,
        isOut: point?.isOut ?? false,
      };
    }),
    center: whole.some((month) => month.visits > 0) ? chart.center : null,
    hasLimits: chart.hasLimits,
    halves:
      older.visits > 0 && newer.visits > 0
        ? { newer, older, comparison: compareRates(counted(newer), counted(older)) }
        : null,
  };
}
