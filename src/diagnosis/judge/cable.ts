import { copperAt20 } from './copper.ts';
import { type Conditions, commonPractice, type Judgement, type QuantityJudge, say } from './judgement.ts';
import { soundWireOhm } from './wire.ts';

/** What the joints of one sound cable run may lose under load, V. Source: one car maker's strict old practice, 0.1 V each run. */
const jointVolts = 0.1;

/** Drop along one cable: what copper of that size and length loses at that current, and a little for its joints. */
function judgeDrop(value: number, conditions: Conditions): Judgement {
  const { current_a } = conditions;
  const drop = Math.abs(value);
  const base = { value, unit: 'V', low: null };
  const refuse = (why: string): Judgement => ({
    ...base,
    verdict: 'cannot-say',
    high: null,
    basis: commonPractice,
    why,
  });
  if (current_a === undefined)
    return refuse('A drop says nothing without its current; note the amperes that flowed.');
  if (Math.abs(current_a) < 0.5)
    return refuse(`At ${say(current_a)} A even a bad joint drops nothing; measure under load.`);
  const wire = soundWireOhm(conditions);
  if (!wire) return refuse('Note the length and the size (mm² or gauge) of the cable with the reading.');
  const cable = wire.ohm * Math.abs(current_a);
  const high = Number((cable + jointVolts).toPrecision(4));
  const judged = { ...base, high, basis: `${wire.source}; joints by common practice` };
  const sound = `A sound cable loses ${say(cable, 3)} V at ${say(Math.abs(current_a))} A, its joints up to ${jointVolts} V`;
  if (drop <= high) return { ...judged, verdict: 'good', why: `${sound}.` };
  const extra = (drop - cable) / Math.abs(current_a);
  return {
    ...judged,
    verdict: 'high',
    why: `${sound}; here ${say(extra, 2)} ohm are too much. Look at the joints and the crimps.`,
  };
}

/** Cranking: supply side and ground side have published limits that need no cable data. */
const crankingLimits = {
  supply: { high: 0.5, source: 'published: US Army TM 5-3805-254-14P-2, voltage drop test' },
  ground: { high: 0.3, source: "published: a battery-tester maker's instructions, ground side" },
} as const;

function judgeCranking(side: keyof typeof crankingLimits): QuantityJudge['judge'] {
  return (value, conditions) => {
    const { high, source } = crankingLimits[side];
    const judged = { value, unit: 'V', low: null, high, basis: source };
    const { current_a } = conditions;
    if (current_a !== undefined && Math.abs(current_a) < 10) {
      return {
        ...judged,
        verdict: 'cannot-say',
        why: `${say(current_a)} A is no cranking current; measure while the starter turns.`,
      };
    }
    const isGood = Math.abs(value) <= high;
    const why = `The whole ${side} side may lose ${high} V while cranking.`;
    return { ...judged, verdict: isGood ? 'good' : 'high', why };
  };
}

/** Resistance of a wire or winding: brought to 20 °C, judged where length and size say what it should be. */
function judgeCopper(value: number, conditions: Conditions): Judgement {
  const { temperature_c, lead_ohm = 0 } = conditions;
  const own = Math.max(0, value - lead_ohm);
  const base = { value, unit: 'ohm' };
  const corrected = Number(copperAt20(own, temperature_c ?? 20).toPrecision(6));
  const wire = soundWireOhm({ ...conditions, temperature_c: 20 });
  if (!wire) {
    const why =
      temperature_c === undefined
        ? 'Note the temperature, and a spec or the length and size of the wire.'
        : `${say(own)} ohm at ${say(temperature_c)} °C are ${say(corrected)} ohm at 20 °C; judge it against a spec.`;
    return {
      ...base,
      verdict: 'cannot-say',
      corrected,
      low: null,
      high: null,
      basis: 'published: IEC 60028, copper',
      why,
    };
  }
  // A tenth of an ohm is what a handheld meter on zeroed leads resolves. Common practice.
  const high = Number((wire.ohm + 0.1).toPrecision(4));
  const judged = { ...base, corrected, low: null, high, basis: wire.source };
  const isGood = corrected <= high;
  const why = `A sound wire of this size has ${say(wire.ohm, 3)} ohm. ${isGood ? 'An ohmmeter clears it only of an open: measure the drop under load.' : 'Open or corroded somewhere along it.'}`;
  return { ...judged, verdict: isGood ? 'good' : 'high', why };
}

export const cableJudges: readonly QuantityJudge[] = [
  {
    names: ['voltage-drop', 'cable-drop', 'drop'],
    unit: 'V',
    possible: { low: -20, high: 20 },
    judge: judgeDrop,
  },
  {
    names: ['voltage-drop-supply', 'supply-drop'],
    unit: 'V',
    possible: { low: -20, high: 20 },
    judge: judgeCranking('supply'),
  },
  {
    names: ['voltage-drop-ground', 'ground-drop'],
    unit: 'V',
    possible: { low: -20, high: 20 },
    judge: judgeCranking('ground'),
  },
  {
    names: ['copper-resistance', 'coil-resistance', 'winding-resistance', 'wire-resistance'],
    unit: 'ohm',
    possible: { low: 0, high: 1e6 },
    judge: judgeCopper,
  },
];
