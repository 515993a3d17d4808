import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import gammaQuantile from '@stdlib/stats-base-dists-gamma-quantile';

/** Both ends of an interval, in the unit of what it is about. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

const tailOf = (level: number): number => (1 - level) / 2;

/**
 * Exact limits for the mean of a count (Garwood, Fiducial limits for the Poisson distribution, Biometrika 28, 1936),
 * as gamma quantiles.
 * @param count whole number, at least 0
 * @param level above 0, below 1
 */
export function poissonInterval(count: number, level = 0.95): Interval {
  const tail = tailOf(level);
  return {
    low: count <= 0 ? 0 : gammaQuantile(tail, count, 1),
    high: gammaQuantile(1 - tail, count + 1, 1),
  };
}

/**
 * Exact limits for a share (Clopper & Pearson, The use of confidence or fiducial limits, Biometrika 26, 1934), as beta
 * quantiles. Nobody asked: everything from 0 to 1 is possible.
 * @param hits whole number from 0 to `of`
 * @param of whole number, at least 0
 */
export function binomialInterval(hits: number, of: number, level = 0.95): Interval {
  if (of <= 0) return { low: 0, high: 1 };
  const tail = tailOf(level);
  return {
    low: hits <= 0 ? 0 : betaQuantile(tail, hits, of - hits + 1),
    high: hits >= of ? 1 : betaQuantile(1 - tail, hits + 1, of - hits),
  };
}
