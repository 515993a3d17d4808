import gammaln from '@stdlib/math-base-special-gammaln';

/** How many are asked for in one stretch of time. */
export interface Demand {
  /** Mean per stretch. */
  readonly mean: number;
  readonly variance: number;
  /** Negative binomial where the counts scatter more than chance alone would let them. */
  readonly kind: 'poisson' | 'negative-binomial';
}

/** Mean and variance (n − 1) of counts per stretch; without counts nothing is asked for. */
export function demandOf(counts: readonly number[]): Demand {
  const n = counts.length;
  const mean = n === 0 ? 0 : counts.reduce((sum, count) => sum + count, 0) / n;
  const variance = n < 2 ? mean : counts.reduce((sum, count) => sum + (count - mean) ** 2, 0) / (n - 1);
  const scattersMore = n >= 6 && mean > 0 && variance > mean;
  return { mean, variance, kind: scattersMore ? 'negative-binomial' : 'poisson' };
}

/** The demand of a longer or shorter stretch: mean and variance grow with it. */
export function demandOver(demand: Demand, stretches: number): Demand {
  return { ...demand, mean: demand.mean * stretches, variance: demand.variance * stretches };
}

/** Chance that exactly `count` are asked for. */
export function demandChance({ mean, variance, kind }: Demand, count: number): number {
  if (mean <= 0) return count === 0 ? 1 : 0;
  if (kind === 'poisson' || variance <= mean)
    return Math.exp(count * Math.log(mean) - mean - gammaln(count + 1));
  const size = mean ** 2 / (variance - mean);
  const share = size / (size + mean);
  return Math.exp(
    gammaln(count + size) -
      gammaln(size) -
      gammaln(count + 1) +
      size * Math.log(share) +
      count * Math.log1p(-share),
  );
}

/** More than this many of one part no small shop keeps; the sum ends there. */
const most = 100_000;

/**
 * The smallest number on the shelf with which the demand of a lead time is met with the wanted chance.
 * @param service above 0, below 1
 */
export function reorderPoint(demand: Demand, service: number): number {
  let sum = 0;
  for (let count = 0; count < most; count += 1) {
    sum += demandChance(demand, count);
    // A hair below the wanted chance is rounding, not a missing part.
    if (sum >= service - 1e-12) return count;
  }
  return most;
}
