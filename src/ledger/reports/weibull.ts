import type { Life } from './survival.ts';

export interface WeibullFit {
  /** Below 1 things fail early, about 1 by chance, above 1 they wear out. */
  readonly shape: number;
  /** Time by which 63 % have failed. */
  readonly scale: number;
  readonly logLikelihood: number;
}

/**
 * Weibull lifetimes with some still running, by maximum likelihood (NIST/SEMATECH e-Handbook 8.4.1.3): the equation of
 * the shape alone is monotone, so halving an interval always ends.
 * @returns null with fewer than 2 different failure times, or a time that is not above 0
 */
export function weibullFit(lives: readonly Life[]): WeibullFit | null {
  const failed = lives.filter((life) => life.isEvent);
  if (new Set(failed.map((life) => life.time)).size < 2 || lives.some((life) => !(life.time > 0)))
    return null;
  // Times over the largest one: no power of them overflows.
  const top = Math.max(...lives.map((life) => life.time));
  const all = lives.map((life) => life.time / top);
  const logs = failed.map((life) => Math.log(life.time / top));
  const meanLog = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const excess = (shape: number): number => {
    let sum = 0;
    let weighted = 0;
    for (const time of all) {
      const power = time ** shape;
      sum += power;
      weighted += power * Math.log(time);
    }
    return weighted / sum - 1 / shape - meanLog;
  };
  let low = 1e-3;
  let high = 1;
  while (excess(high) < 0 && high < 1e4) high *= 2;
  for (let step = 0; step < 200; step += 1) {
    const middle = (low + high) / 2;
    if (excess(middle) < 0) low = middle;
    else high = middle;
  }
  const shape = (low + high) / 2;
  const mean = all.reduce((sum, time) => sum + time ** shape, 0) / failed.length;
  const scale = top * mean ** (1 / shape);
  const logLikelihood = lives.reduce((sum, { time, isEvent }) => {
    const ratio = time / scale;
    return sum - ratio ** shape + (isEvent ? Math.log(shape / scale) + (shape - 1) * Math.log(ratio) : 0);
  }, 0);
  return { shape, scale, logLikelihood };
}
