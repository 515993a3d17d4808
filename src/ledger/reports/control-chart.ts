/** One point of a chart with its limits; null limits where the mean is too small for them. */
export interface ChartPoint {
  /** Count, or count per unit of exposure. */
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Outside of its limits. */
  readonly isOut: boolean;
}

export interface ControlChart {
  readonly center: number;
  readonly points: readonly ChartPoint[];
  /** False where the mean count is below `leastMean`: three-sigma limits would be wrong for such small counts. */
  readonly hasLimits: boolean;
}

/**
 * Below a mean count of 5 the normal limits of a count are not to be trusted (common practice, no source); the lower
 * limit is 0 anyway while the mean is below 9.
 */
export const leastMean = 5;

/**
 * c-chart of counts over equal stretches: mean plus and minus three roots of the mean (NIST/SEMATECH e-Handbook 6.3.3.1).
 * A point exactly on its limit is inside.
 */
export function cChart(counts: readonly number[]): ControlChart {
  return uChart(
    counts,
    counts.map(() => 1),
  );
}

/**
 * u-chart of counts over stretches of different size: the limits follow the size of each (NIST/SEMATECH e-Handbook
 * 6.3.3.1, counts per unit). A stretch of size 0 has no point value but 0 and no limits.
 */
export function uChart(counts: readonly number[], sizes: readonly number[]): ControlChart {
  const total = counts.reduce((sum, count) => sum + count, 0);
  const exposure = sizes.reduce((sum, size) => sum + size, 0);
  const center = exposure > 0 ? total / exposure : 0;
  const hasLimits = counts.length > 1 && total / counts.length >= leastMean;
  return {
    center,
    hasLimits,
    points: counts.map((count, place) => {
      const size = sizes[place] ?? 0;
      const value = size > 0 ? count / size : 0;
      if (!hasLimits || size <= 0) return { value, low: null, high: null, isOut: false };
      const reach = 3 * Math.sqrt(center / size);
      const low = Math.max(0, center - reach);
      const high = center + reach;
      return { value, low, high, isOut: value < low || value > high };
    }),
  };
}
