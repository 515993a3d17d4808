import { type Conditions, commonPractice, type Judgement, type QuantityJudge, say } from './judgement.ts';

/** A grounded winding reads its own copper, at most this, ohm. Common practice, no source. */
const groundedWinding = { low: 0.05, high: 5 } as const;
/** An isolated winding: no continuity at all. What a handheld meter still calls open, and what is plain continuity, ohm. Common practice. */
const isolatedWinding = { low: 1e6, bad: 1e4 } as const;

/** A half-wave stator is grounded at one end on purpose and reads to ground; a three-phase one must not. */
function judgeStatorToGround(value: number, conditions: Conditions): Judgement {
  const { stator, lead_ohm = 0 } = conditions;
  const base = { value, unit: 'ohm', basis: commonPractice };
  if (stator === undefined) {
    const why =
      'Say which stator it is: a half-wave one reads to ground on purpose, a three-phase one must not.';
    return { ...base, verdict: 'cannot-say', low: null, high: null, why };
  }
  if (stator === 'three-phase') {
    const judged = { ...base, low: isolatedWinding.low, high: null };
    if (value >= isolatedWinding.low)
      return { ...judged, verdict: 'good', why: 'No continuity to ground, as it must be.' };
    const isBad = value < isolatedWinding.bad;
    const why = isBad
      ? 'A three-phase stator with continuity to ground is shorted to its core.'
      : 'Moisture or oil on the insulation: dry it, clean it, measure again.';
    return { ...judged, verdict: isBad ? 'bad' : 'low', why };
  }
  const own = Math.max(0, value - lead_ohm);
  const judged = { ...base, corrected: Number(own.toPrecision(6)), ...groundedWinding };
  if (own > groundedWinding.high) {
    return {
      ...judged,
      verdict: 'high',
      why: 'A half-wave stator is grounded at one end and should read its winding: open, or its ground is lost.',
    };
  }
  if (own < groundedWinding.low) {
    return {
      ...judged,
      verdict: 'low',
      why: 'Less than a winding has: shorted, or the leads were zeroed wrongly.',
    };
  }
  return { ...judged, verdict: 'good', why: 'Grounded at one end on purpose: it reads its own winding.' };
}

/** Drain with the key off, mA. Common practice for small scooters, no source. */
const drainLimit = { plain: 1, withClock: 5 } as const;

function judgeDrain(value: number, conditions: Conditions): Judgement {
  const drain = Math.abs(value);
  const { capacity_ah } = conditions;
  const judged = { value, unit: 'mA', low: null, high: drainLimit.plain, basis: commonPractice };
  const days = capacity_ah !== undefined && drain > 0 ? (0.5 * capacity_ah * 1000) / drain / 24 : null;
  const half = days === null ? '' : ` Half of the battery is gone in ${say(days, 2)} days.`;
  if (drain <= drainLimit.plain)
    return { ...judged, verdict: 'good', why: `At most ${drainLimit.plain} mA with the key off.${half}` };
  if (drain <= drainLimit.withClock) {
    const why = `More than ${drainLimit.plain} mA: right only with a clock or an alarm, which may take up to ${drainLimit.withClock} mA.${half}`;
    return { ...judged, verdict: 'high', why };
  }
  const why = `More than a clock and an alarm take (${drainLimit.withClock} mA): part fuses and plugs until it falls.${half}`;
  return { ...judged, verdict: 'bad', why };
}

export const chargingJudges: readonly QuantityJudge[] = [
  {
    names: ['stator-to-ground', 'stator-ground-resistance', 'stator-insulation'],
    unit: 'ohm',
    possible: { low: 0, high: 1e9 },
    judge: judgeStatorToGround,
  },
  {
    names: ['key-off-drain', 'standby-current', 'drain'],
    unit: 'mA',
    possible: { low: -50_000, high: 50_000 },
    judge: judgeDrain,
  },
];
