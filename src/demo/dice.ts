import mt19937 from '@stdlib/random-base-mt19937';

/** Seeded dice: the same seed gives the same shop. */
export interface Dice {
  /** 0 (inclusive) to 1 (exclusive). */
  unit(): number;
  /** Whole number from low to high, both included. */
  whole(low: number, high: number): number;
  chance(p: number): boolean;
  /** Standard normal (Box–Muller). */
  normal(): number;
  pick<T>(list: readonly T[]): T;
  /** Place in a list of weights at least 0, of which one is above 0. */
  weighted(weights: readonly number[]): number;
}

export function createDice(seed: number): Dice {
  // The package's types leave out `normalized`, which every generator it makes has.
  const unit = (mt19937.factory({ seed }) as unknown as { normalized: () => number }).normalized;
  const weighted = (weights: readonly number[]): number => {
    let left = unit() * weights.reduce((sum, weight) => sum + weight, 0);
    for (const [place, weight] of weights.entries()) {
      left -= weight;
      if (left < 0) return place;
    }
    return weights.findLastIndex((weight) => weight > 0);
  };
  return {
    unit,
    whole: (low, high) => low + Math.floor(unit() * (high - low + 1)),
    chance: (p) => unit() < p,
    normal: () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
    pick: (list) => {
      const one = list[Math.floor(unit() * list.length)];
      if (one === undefined) throw new RangeError('There is nothing to pick from.');
      return one;
    },
    weighted,
  };
}
