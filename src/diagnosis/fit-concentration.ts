import digamma from '@stdlib/math-base-special-digamma';
import gammaln from '@stdlib/math-base-special-gammaln';

/** Evidence of one group (a model, an engine family): weights by category, and what its parent level expects. */
export interface EvidenceGroup {
  /** Evidence by category, in concerns (fractions allowed), at least 0. */
  readonly weights: ArrayLike<number>;
  /** Shares the parent level expects, same order, above 0 wherever there is evidence, summing to 1. */
  readonly base: ArrayLike<number>;
  /** Whole concerns behind the evidence. */
  readonly concerns: number;
}

export interface ConcentrationLimits {
  readonly floor: number;
  readonly ceiling: number;
  /** Used when fewer than `leastGroups` groups speak. */
  readonly fallback: number;
}

/** A group says nothing about spread with a single concern, and two groups say too little. */
export const leastConcerns = 2;
export const leastGroups = 3;

/**
 * Natural logarithm of the Dirichlet-multinomial probability of `counts` under `alphas`, multinomial coefficient
 * included. Counts at least 0, alphas above 0, same length.
 * Source: Minka, Estimating a Dirichlet distribution (2000), section 3.
 */
export function logDirichletMultinomial(counts: ArrayLike<number>, alphas: ArrayLike<number>): number {
  let n = 0;
  let a = 0;
  let log = 0;
  for (let k = 0; k < counts.length; k++) {
    const count = counts[k] as number;
    const alpha = alphas[k] as number;
    n += count;
    a += alpha;
    log += gammaln(count + alpha) - gammaln(alpha) - gammaln(count + 1);
  }
  return log + gammaln(a) - gammaln(n + a) + gammaln(n + 1);
}

/** Slope of the log-likelihood along the concentration, summed over the groups (Minka 2000, learning the precision alone). */
export function concentrationSlope(groups: readonly EvidenceGroup[], concentration: number): number {
  let slope = 0;
  for (const { weights, base } of groups) {
    let total = 0;
    for (let k = 0; k < weights.length; k++) {
      const weight = weights[k] as number;
      if (weight <= 0) continue;
      total += weight;
      const share = base[k] as number;
      slope += share * (digamma(weight + concentration * share) - digamma(concentration * share));
    }
    slope -= digamma(total + concentration) - digamma(concentration);
  }
  return slope;
}

/**
 * How closely the groups follow their parent's shares: the concentration (in concerns) that makes their evidence
 * likeliest, the shares themselves held fixed. Bisection of the slope in the logarithm between floor and ceiling;
 * `fallback` when fewer than three groups have two concerns or more.
 * Source: Minka 2000, Dirichlet-multinomial maximum likelihood.
 */
export function fitConcentration(groups: readonly EvidenceGroup[], limits: ConcentrationLimits): number {
  const speaking = groups.filter((group) => group.concerns >= leastConcerns);
  if (speaking.length < leastGroups) return limits.fallback;
  if (concentrationSlope(speaking, limits.ceiling) >= 0) return limits.ceiling;
  if (concentrationSlope(speaking, limits.floor) <= 0) return limits.floor;
  let low = Math.log(limits.floor);
  let high = Math.log(limits.ceiling);
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    if (concentrationSlope(speaking, Math.exp(middle)) > 0) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}
