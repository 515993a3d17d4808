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

/** Of the causes shown with about this chance, how many held; counted one by one, none is kept. */
export class BinCount {
  readonly #bins = edges.slice(0, -1).map(() => ({ shown: 0, held: 0, chances: 0 }));

  add({ chance, held }: Shown): void {
    const bin = this.#bins[edges.findLastIndex((edge, place) => chance >= edge && place < edges.length - 1)];
    if (!bin || chance > 1) return;
    bin.shown += 1;
    bin.held += Number(held);
    bin.chances += chance;
  }

  /** Bins without a cause are left out. */
  result(): CalibrationBin[] {
    return this.#bins.flatMap(({ shown, held, chances }, place) =>
      shown === 0
        ? []
        : [
            {
              from: edges[place] as number,
              to: edges[place + 1] as number,
              shown,
              held,
              meanChance: chances / shown,
              share: held / shown,
              ...binomialInterval(held, shown),
            },
          ],
    );
  }
}

/** The same of a list. */
export function calibrationBins(all: readonly Shown[]): CalibrationBin[] {
  const count = new BinCount();
  for (const one of all) count.add(one);
  return count.result();
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
