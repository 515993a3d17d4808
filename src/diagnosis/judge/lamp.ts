import { type Conditions, commonPractice, type Judgement, type QuantityJudge, say } from './judgement.ts';

/**
 * Filament power grows with volts to about this power. Common lamp rule, no source; it meets the lamp sheet of the P21/5W
 * (97/24/EC: 21 W gives 25 W ± 6 %, 5 W gives 6 W ± 10 % at 13.5 V).
 */
const powerExponent = 1.6;
/** Lowest and highest volts at a lit lamp of a 12 V machine, as shares of the rated volts. Common practice. */
const supplyRange = { low: 1, high: 1.2 } as const;
/** Lamp sheets allow the small filament ± 10 %. Source: 97/24/EC, P21/5W. */
const lampTolerance = 0.1;

/** Current of a filament lamp at `volts`, A. */
export function lampCurrent(rated_w: number, rated_v: number, volts: number): number {
  return (rated_w / volts) * (volts / rated_v) ** powerExponent;
}

function judgeLamp(value: number, conditions: Conditions): Judgement {
  const { rated_w, rated_v = 12 } = conditions;
  const base = { value, unit: 'A', basis: `${commonPractice}; checked against 97/24/EC lamp sheets` };
  if (rated_w === undefined || !(rated_w > 0) || !(rated_v > 0)) {
    return {
      ...base,
      verdict: 'cannot-say',
      low: null,
      high: null,
      why: 'Note the rated watts of the lamp with the reading.',
    };
  }
  const current = Math.abs(value);
  const low = (1 - lampTolerance) * lampCurrent(rated_w, rated_v, supplyRange.low * rated_v);
  const high = (1 + lampTolerance) * lampCurrent(rated_w, rated_v, supplyRange.high * rated_v);
  const judged = { ...base, low: Number(low.toPrecision(3)), high: Number(high.toPrecision(3)) };
  const expected = `A ${say(rated_w)} W lamp draws ${say(low, 3)} to ${say(high, 3)} A on a running machine`;
  if (current < 0.02) {
    return {
      ...judged,
      verdict: 'low',
      why: `${expected}; this one draws none: burnt out, or nothing arrives.`,
    };
  }
  if (current < low)
    return { ...judged, verdict: 'low', why: `${expected}: a smaller lamp, or volts lost on the way.` };
  if (current > high)
    return { ...judged, verdict: 'high', why: `${expected}: a larger lamp, a second one, or a leak.` };
  return { ...judged, verdict: 'good', why: `${expected}.` };
}

export const lampJudge: QuantityJudge = {
  names: ['lamp-current', 'lamp'],
  unit: 'A',
  possible: { low: -50, high: 50 },
  judge: judgeLamp,
};
