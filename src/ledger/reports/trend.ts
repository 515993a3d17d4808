import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/** Moments of events from the start of watching, in any unit, above 0. */
export interface Watched {
  readonly times: readonly number[];
  /** How long was watched; absent where watching ended with the last event. */
  readonly until?: number | undefined;
}

const sorted = (times: readonly number[]): number[] => [...times].sort((a, b) => a - b);

export interface LaplaceTrend {
  /** Standard normal where nothing changes; above 0 the events come ever closer together. */
  readonly z: number;
  /** Both sides. */
  readonly p: number;
}

/**
 * Laplace's test for a trend in the rate of events (NIST/SEMATECH e-Handbook 8.2.3.4). Where watching ended with the last
 * event, that one is left out and its moment is the end.
 * @returns null with fewer than 3 events to judge by
 */
export function laplaceTrend({ times, until }: Watched): LaplaceTrend | null {
  const all = sorted(times);
  const end = until ?? all.at(-1) ?? 0;
  const used = until === undefined ? all.slice(0, -1) : all;
  if (used.length < 3 || end <= 0) return null;
  const mean = used.reduce((sum, time) => sum + time, 0) / used.length;
  const z = (mean - end / 2) / (end * Math.sqrt(1 / (12 * used.length)));
  return { z, p: 2 * normalCdf(-Math.abs(z), 0, 1) };
}

export interface PowerLaw {
  /** Above 1 the events come faster and faster, below 1 slower and slower. */
  readonly shape: number;
  /** Expected events up to time t are scale · t^shape. */
  readonly scale: number;
  /** Events per unit of time at the end of watching. */
  readonly rateNow: number;
  /** Military handbook statistic, chi-squared with `degrees` degrees where nothing changes; small when it gets worse. */
  readonly statistic: number;
  readonly degrees: number;
  /** Both sides. */
  readonly p: number;
}

/**
 * Power-law process by maximum likelihood with the test of MIL-HDBK-189 (section on time and failure truncation;
 * NIST/SEMATECH e-Handbook 8.2.3.4 and 8.4.5).
 * @returns null with fewer than 3 events, or where two events at the end leave nothing to fit
 */
export function powerLaw({ times, until }: Watched): PowerLaw | null {
  const all = sorted(times);
  const end = until ?? all.at(-1) ?? 0;
  if (all.length < 3 || end <= 0 || (all[0] ?? 0) <= 0) return null;
  const logs = all.reduce((sum, time) => sum + Math.log(end / time), 0);
  if (logs <= 0) return null;
  const shape = all.length / logs;
  const scale = all.length / end ** shape;
  const statistic = 2 * logs;
  const degrees = 2 * (until === undefined ? all.length - 1 : all.length);
  const below = chiSquaredCdf(statistic, degrees);
  return {
    shape,
    scale,
    rateNow: (all.length * shape) / end,
    statistic,
    degrees,
    p: 2 * Math.min(below, 1 - below),
  };
}

/** Share of a chi-squared distribution below `value`. */
export const chiSquaredCdf = (value: number, degrees: number): number => gammaCdf(value, degrees / 2, 0.5);
