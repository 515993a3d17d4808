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

/** Sums over moments of events from the start of watching: all that the tests below need, however many there were. */
interface Summed {
  readonly events: number;
  readonly sum: number;
  /** Of the logarithms of the end over each moment. */
  readonly logs: number;
  readonly end: number;
}

function laplaceOf({ events, sum, end }: Summed): LaplaceTrend | null {
  if (events < 3 || end <= 0) return null;
  const z = (sum / events - end / 2) / (end * Math.sqrt(1 / (12 * events)));
  return { z, p: 2 * normalCdf(-Math.abs(z), 0, 1) };
}

/**
 * Laplace's test for a trend in the rate of events (NIST/SEMATECH e-Handbook 8.2.3.4). Where watching ended with the last
 * event, that one is left out and its moment is the end.
 * @returns null with fewer than 3 events to judge by
 */
export function laplaceTrend({ times, until }: Watched): LaplaceTrend | null {
  const all = sorted(times);
  const used = until === undefined ? all.slice(0, -1) : all;
  const sum = used.reduce((before, time) => before + time, 0);
  return laplaceOf({ events: used.length, sum, logs: 0, end: until ?? all.at(-1) ?? 0 });
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
  return powerLawOf({ events: all.length, sum: 0, logs, end }, until !== undefined);
}

function powerLawOf({ events, logs, end }: Summed, isWatchedOn: boolean): PowerLaw | null {
  if (events < 3 || end <= 0 || logs <= 0) return null;
  const shape = events / logs;
  const scale = events / end ** shape;
  const statistic = 2 * logs;
  const degrees = 2 * (isWatchedOn ? events : events - 1);
  const below = chiSquaredCdf(statistic, degrees);
  return {
    shape,
    scale,
    rateNow: (events * shape) / end,
    statistic,
    degrees,
    p: 2 * Math.min(below, 1 - below),
  };
}

/**
 * The same tests over events that are handed over one by one, none of which is kept. Moments may stand on any scale that
 * grows; on one that grows with the visits, a shop with more and more visits shows no trend by that alone.
 */
export class TrendCount {
  readonly #end: number;
  #events = 0;
  #sum = 0;
  #logs = 0;

  /** @param end how long was watched, above 0 */
  constructor(end: number) {
    this.#end = end;
  }

  /** @param moment from 0 to the end; 0 itself is taken as a billionth of the whole, since its logarithm has no end */
  add(moment: number): void {
    const inside = Math.min(this.#end, Math.max(this.#end * 1e-9, moment));
    this.#events += 1;
    this.#sum += inside;
    this.#logs += Math.log(this.#end / inside);
  }

  result(): { readonly laplace: LaplaceTrend | null; readonly powerLaw: PowerLaw | null } {
    const summed = { events: this.#events, sum: this.#sum, logs: this.#logs, end: this.#end };
    return { laplace: laplaceOf(summed), powerLaw: powerLawOf(summed, true) };
  }
}

/** Share of a chi-squared distribution below `value`. */
export const chiSquaredCdf = (value: number, degrees: number): number => gammaCdf(value, degrees / 2, 0.5);
