import gammaln from '@stdlib/math-base-special-gammaln';
import betaCdf from '@stdlib/stats-base-dists-beta-cdf';
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';

/** A count and how much was looked at for it (visits, days, km), above 0. */
export interface Counted {
  readonly events: number;
  readonly exposure: number;
}

export interface RateComparison {
  /** Rate of the first over rate of the second; null where the second has no event or nothing happened in either. */
  readonly ratio: number | null;
  /** Central interval of the ratio; the high end is null where it is open. */
  readonly low: number;
  readonly high: number | null;
  /** Chance of a difference at least as unlikely as this one, if both rates were the same. */
  readonly p: number;
  /** Chance of at least so many events in the first, if both rates were the same. */
  readonly pRise: number;
}

/** Chance of at least `hits` of `of` when each has the chance `share`; exact, as a beta distribution. */
export function binomialAtLeast(hits: number, of: number, share: number): number {
  if (hits <= 0) return 1;
  if (hits > of || share <= 0) return 0;
  if (share >= 1) return 1;
  return betaCdf(share, hits, of - hits + 1);
}

const logChoose = (of: number, hits: number): number =>
  gammaln(of + 1) - gammaln(hits + 1) - gammaln(of - hits + 1);

/**
 * The sum of all outcomes that are no likelier than the one seen, with the tolerance that R uses for ties. Chances rise up to
 * the likeliest outcome and fall beyond it, so the sum is two tails, and the end of the other one is found by halving.
 */
function asUnlikely(hits: number, of: number, share: number): number {
  const log = (k: number): number => logChoose(of, k) + k * Math.log(share) + (of - k) * Math.log1p(-share);
  const seen = log(hits) + 1e-7;
  const likeliest = Math.min(of, Math.floor((of + 1) * share));
  if (log(likeliest) <= seen) return 1;
  const isBelow = hits < likeliest;
  let inside = likeliest;
  let beyond = isBelow ? of + 1 : -1;
  while (Math.abs(beyond - inside) > 1) {
    const middle = Math.floor((inside + beyond) / 2);
    if (log(middle) <= seen) beyond = middle;
    else inside = middle;
  }
  const atMost = (k: number): number => binomialAtLeast(of - k, of, 1 - share);
  const lower = isBelow ? hits : beyond;
  const upper = isBelow ? beyond : hits;
  return Math.min(1, (lower < 0 ? 0 : atMost(lower)) + binomialAtLeast(upper, of, share));
}

/**
 * Exact comparison of two rates: given how many events there were in all, the first has a binomial count (Przyborowski &
 * Wilenski, Biometrika 31, 1940). The interval is central (Clopper–Pearson).
 * @throws RangeError when an exposure is not above 0
 */
export function compareRates(first: Counted, second: Counted, level = 0.95): RateComparison {
  if (!(first.exposure > 0 && second.exposure > 0))
    throw new RangeError('Two rates are compared over exposures above 0.');
  const of = first.events + second.events;
  const scale = second.exposure / first.exposure;
  const share = first.exposure / (first.exposure + second.exposure);
  if (of === 0) return { ratio: null, low: 0, high: null, p: 1, pRise: 1 };
  const tail = (1 - level) / 2;
  const odds = (chance: number): number => (chance / (1 - chance)) * scale;
  const low = first.events === 0 ? 0 : odds(betaQuantile(tail, first.events, second.events + 1));
  const high = second.events === 0 ? null : odds(betaQuantile(1 - tail, first.events + 1, second.events));
  const pRise = binomialAtLeast(first.events, of, share);
  const p = asUnlikely(first.events, of, share);
  return {
    ratio: second.events === 0 ? null : (first.events / second.events) * scale,
    low,
    high,
    p,
    pRise,
  };
}

/** The smallest chance that any split of so many events could show: below no threshold, no test is worth making. */
export const smallestRise = (of: number, share: number): number => share ** of;

/**
 * Chance of at least `hits` of `of` in one group, if group and rest were alike (Fisher's exact test, one side;
 * Fisher, Statistical Methods for Research Workers, section 21.02).
 * @param hits of `of` in the group; @param restHits of `rest` in everything else
 */
export function fisherAtLeast(hits: number, of: number, restHits: number, rest: number): number {
  const marked = hits + restHits;
  const least = Math.max(0, marked - rest);
  const most = Math.min(of, marked);
  if (hits <= least) return 1;
  if (hits > most) return 0;
  const chance = (k: number): number =>
    Math.exp(logChoose(of, k) + logChoose(rest, marked - k) - logChoose(of + rest, marked));
  /** Chance of k over the chance of k − 1. */
  const step = (k: number): number => ((of - k + 1) * (marked - k + 1)) / (k * (rest - marked + k));
  // From the nearer end of the tail, until what is left cannot be seen in the sum.
  const isAbove = hits > (of * marked) / (of + rest);
  let k = isAbove ? hits : hits - 1;
  let each = chance(k);
  let sum = 0;
  while (k >= least && k <= most) {
    sum += each;
    if (each < sum * 1e-17) break;
    each = isAbove ? each * step(k + 1) : each / step(k);
    k += isAbove ? 1 : -1;
  }
  return Math.min(1, Math.max(0, isAbove ? sum : 1 - sum));
}
