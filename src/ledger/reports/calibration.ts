import { binomialInterval } from './intervals.ts';

/** One cause as it was shown, and whether it was the one. */
export interface Shown {
  /** 0 to 1. */
  readonly chance: number;
  readonly held: boolean;
}

export interface CalibrationBin {
  /** Chances from here (inclusive) … */
  readonly from: number;
  /** … up to here (exclusive, but for the last). */
  readonly to: number;
  readonly shown: number;
  readonly held: number;
  /** Mean of the chances that were shown. */
  readonly meanChance: number;
  /** Share that held, with its exact 95 % interval. */
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

const edges = [0, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1] as const;

/** Of the causes shown with about this chance, how many held; bins without a cause are left out. */
export function calibrationBins(all: readonly Shown[]): CalibrationBin[] {
  const bins: CalibrationBin[] = [];
  for (const [place, from] of edges.slice(0, -1).entries()) {
    const to = edges[place + 1] as number;
    const isLast = place === edges.length - 2;
    const inside = all.filter(({ chance }) => chance >= from && (chance < to || (isLast && chance <= to)));
    if (inside.length === 0) continue;
    const held = inside.filter((one) => one.held).length;
    bins.push({
      from,
      to,
      shown: inside.length,
      held,
      meanChance: inside.reduce((sum, one) => sum + one.chance, 0) / inside.length,
      share: held / inside.length,
      ...binomialInterval(held, inside.length),
    });
  }
  return bins;
}

/** What the surprise of a chance is at most: a chance below one in a million is taken as that. */
const leastChance = 1e-6;

/** Surprise of what happened, in natural logarithms: 0 for certainty, more is worse (Good, Rational decisions, 1952). */
export const surprise = (chance: number): number => -Math.log(Math.max(leastChance, Math.min(1, chance)));

/**
 * Chance by plain frequency: how often it was this one before, with one virtual case shared by all that could be, so that
 * what never happened is not impossible.
 * @param options how many could be, at least 1
 */
export const plainFrequency = (times: number, of: number, options: number): number =>
  (times + 1 / options) / (of + 1);
