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

/** The sum of all outcomes that are no likelier than the one seen, with the tolerance that R uses for ties. */
function asUnlikely(hits: number, of: number, share: number): number {
  const log = (k: number): number => logChoose(of, k) + k * Math.log(share) + (of - k) * Math.log1p(-share);
  const seen = log(hits) + 1e-7;
  let sum = 0;
  for (let k = 0; k <= of; k += 1) {
    const each = log(k);
    if (each <= seen) sum += Math.exp(each);
  }
  return Math.min(1, sum);
}

/** Above this the sum over all outcomes is not worth its time: twice the smaller tail says the same. */
const sumUpTo = 20_000;

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
  const p =
    of > sumUpTo
      ? Math.min(1, 2 * Math.min(pRise, 1 - binomialAtLeast(first.events + 1, of, share)))
      : asUnlikely(first.events, of, share);
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
  const all = of + rest;
  const marked = hits + restHits;
  const top = Math.min(of, marked);
  const whole = logChoose(all, marked);
  let sum = 0;
  for (let k = hits; k <= top; k += 1)
    if (marked - k <= rest) sum += Math.exp(logChoose(of, k) + logChoose(rest, marked - k) - whole);
  return Math.min(1, sum);
}
