/** Standard deviation of a handheld meter's reading, in its own unit. Common practice, no source. */
export function meterDeviation(
  kind: 'test-lamp' | 'voltmeter' | 'ohmmeter' | 'ammeter',
  value: number,
): number {
  const size = Math.abs(value);
  switch (kind) {
    // 0.5 % and two digits; the eye that judges a lamp's brightness does so within about half a volt.
    case 'voltmeter':
      return 0.005 * size + 0.02;
    case 'test-lamp':
      return 0.4;
    // 1 % and what the leads have left after zeroing.
    case 'ohmmeter':
      return 0.01 * size + 0.15;
    case 'ammeter':
      return 0.03 * size + 0.05;
  }
}

/** Chance that a probe does not touch metal, and the meter shows nothing. Common practice, no source. */
export const missedProbe = 0.02;

/** Density of the normal distribution. */
export function normalDensity(value: number, mean: number, deviation: number): number {
  const z = (value - mean) / deviation;
  return Math.exp(-0.5 * z * z) / (deviation * Math.sqrt(2 * Math.PI));
}

/** Chance of less than `value` under the normal distribution. Source: Abramowitz and Stegun 7.1.26, error below 1.5e-7. */
export function normalBelow(value: number, mean: number, deviation: number): number {
  const x = (value - mean) / (deviation * Math.SQRT2);
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const erf = 1 - poly * Math.exp(-x * x);
  return x >= 0 ? 0.5 * (1 + erf) : 0.5 * (1 - erf);
}
