import randomGamma from '@stdlib/random-base-gamma';
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** 90 %: from the 5 % to the 95 % point. */
const lowTail = 0.05;
const highTail = 0.95;
const draws = 400;

/** 90 % interval of each share of a Dirichlet distribution: its marginals are beta distributions. */
export function dirichletIntervals(alphas: ArrayLike<number>): Interval[] {
  let total = 0;
  for (let k = 0; k < alphas.length; k++) total += alphas[k] as number;
  return Array.from({ length: alphas.length }, (_, k) => {
    const alpha = alphas[k] as number;
    const rest = total - alpha;
    if (!(alpha > 0)) return { low: 0, high: 0 };
    if (!(rest > 1e-12)) return { low: 1, high: 1 };
    return { low: betaQuantile(lowTail, alpha, rest), high: betaQuantile(highTail, alpha, rest) };
  });
}

/**
 * 90 % interval of each cause's probability after readings: shares are drawn from the Dirichlet distribution and
 * passed through the likelihood. Seeded: the same seed gives the same interval.
 */
export function intervalsAfterReadings(
  alphas: ArrayLike<number>,
  likelihood: ArrayLike<number>,
  seed: number,
): Interval[] {
  const width = alphas.length;
  const gamma = randomGamma.factory({ seed: Math.max(1, Math.floor(Math.abs(seed)) % 4294967295) });
  const drawn = Array.from({ length: width }, () => new Float64Array(draws));
  const one = new Float64Array(width);
  for (let draw = 0; draw < draws; draw++) {
    let total = 0;
    for (let k = 0; k < width; k++) {
      const alpha = alphas[k] as number;
      const weight = alpha > 0 ? gamma(alpha, 1) * (likelihood[k] as number) : 0;
      one[k] = weight;
      total += weight;
    }
    for (let k = 0; k < width; k++) {
      (drawn[k] as Float64Array)[draw] = total > 0 ? (one[k] as number) / total : 1 / width;
    }
  }
  return drawn.map((values) => {
    values.sort();
    return {
      low: values[Math.floor(lowTail * (draws - 1))] as number,
      high: values[Math.ceil(highTail * (draws - 1))] as number,
    };
  });
}
