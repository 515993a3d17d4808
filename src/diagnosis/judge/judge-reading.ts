import type { Book, Spec } from '../../book/index.ts';
import { Problem, quoted } from '../../problem.ts';
import type { SpecId } from '../../terms.ts';
import { basisWords } from '../plan/check-view.ts';
import { readValue } from '../read-value.ts';
import { convert, unitNamed } from '../units.ts';
import { batteryJudges, leastLoadCharge, leastRestHours } from './battery.ts';
import { cableJudges } from './cable.ts';
import { chargingJudges } from './charging.ts';
import { copperAt20 } from './copper.ts';
import { fuseJudge } from './fuse.ts';
import { inability } from './instrument-ability.ts';
import { type Conditions, type Judgement, type QuantityJudge, say } from './judgement.ts';
import { lampJudge } from './lamp.ts';

export interface JudgeInput {
  readonly specId?: string | undefined;
  /** By name, where there is no spec: see `judgedQuantities`. */
  readonly quantity?: string | undefined;
  /** A number, or text as typed ("12,6 V", "1.2 kΩ", "OL"). */
  readonly value: number | string;
  readonly unit?: string | undefined;
  readonly conditions?: Conditions | undefined;
}

const judges: readonly QuantityJudge[] = [
  ...batteryJudges,
  ...cableJudges,
  ...chargingJudges,
  fuseJudge,
  lampJudge,
];

/** Quantities that can be judged by name. */
export const judgedQuantities: readonly string[] = judges.map((one) => one.names[0] as string);

/**
 * Judges a measured value: against a spec of the book, or by the name of its quantity, at the conditions noted.
 * Refuses with `cannot-say` and the reason where instrument, rest, charge or missing conditions make any answer a guess.
 * Throws `not-found` for an unknown spec and `bad-input` for an unknown quantity or a value that is none.
 * Sources: with each judge; METHOD.md lists them.
 */
export function judgeReading(book: Book, input: JudgeInput): Judgement {
  const conditions = input.conditions ?? {};
  if (input.specId !== undefined) {
    const spec = book.specs.get(input.specId as SpecId);
    if (!spec) {
      throw new Problem('not-found', `The book has no spec ${quoted(input.specId)}.`, {
        field: 'specId',
        id: input.specId,
      });
    }
    return judgeBySpec(spec, input, conditions);
  }
  if (input.quantity === undefined) {
    throw new Problem(
      'bad-input',
      `Say what was measured: a specId, or one of ${judgedQuantities.join(', ')}.`,
      {
        field: 'quantity',
      },
    );
  }
  const name = input.quantity
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, '-');
  const judge = judges.find((one) => one.names.includes(name));
  if (!judge) {
    throw new Problem(
      'bad-input',
      `Nothing is known about ${quoted(input.quantity)}; these can be judged without a spec: ${judgedQuantities.join(', ')}.`,
      { field: 'quantity' },
    );
  }
  const value = readValue(input.value, input.unit, judge.unit, { possible: judge.possible, name });
  const judged = judge.judge(value, conditions);
  const reason = inability(
    { value, unit: judge.unit, quantity: name, low: judged.low, high: judged.high },
    conditions,
  );
  return reason && judged.verdict !== 'cannot-say'
    ? { ...judged, verdict: 'cannot-say', why: reason }
    : judged;
}

function judgeBySpec(spec: Spec, input: JudgeInput, conditions: Conditions): Judgement {
  const value = readValue(input.value, input.unit, spec.unit, { name: spec.title, possible: spanOf(spec) });
  const { low, high } = spec;
  const base = { value, unit: spec.unit, low, high, basis: basisWords(spec.basis) };
  const unable = inability({ value, unit: spec.unit, quantity: spec.quantity, low, high }, conditions);
  if (unable) return { ...base, verdict: 'cannot-say', why: unable };
  const refusal = conditionRefusal(spec, conditions);
  if (refusal) return { ...base, verdict: 'cannot-say', why: refusal };

  const corrected = correctedValue(spec, value, conditions);
  const judged = corrected === null ? value : corrected.value;
  const notes = corrected ? { corrected: judged } : {};
  const said = corrected ? `${corrected.words} ` : '';
  const limits =
    low !== null && high !== null
      ? `${say(low)} to ${say(high)} ${spec.unit}`
      : low !== null
        ? `at least ${say(low)} ${spec.unit}`
        : `at most ${say(high as number)} ${spec.unit}`;
  const at = spec.conditions ? ` (${spec.conditions})` : '';
  const why = `${said}${spec.title}: ${limits}${at}.`;
  if (low !== null && judged < low) return { ...base, ...notes, verdict: 'low', why };
  if (high !== null && judged > high) return { ...base, ...notes, verdict: 'high', why };
  return { ...base, ...notes, verdict: 'good', why };
}

/** Far wider than any limit, to catch a wrong unit: negative resistances, thousands of volts. */
function spanOf(spec: Spec): { low: number; high: number } {
  const unit = unitNamed(spec.unit);
  const most = Math.max(Math.abs(spec.low ?? 0), Math.abs(spec.high ?? 0), 1);
  switch (unit?.measures) {
    case 'voltage':
      return { low: -100 * most, high: 100 * most };
    case 'current':
      return { low: -1000 * most, high: 1000 * most };
    case 'resistance': {
      const mega = unitNamed('Mohm');
      return { low: 0, high: mega ? Math.max(1e3 * most, convert(1000, mega, unit)) : 1e9 };
    }
    case 'temperature':
      return { low: -100, high: 2000 };
    case undefined:
      return { low: -1e9, high: 1e9 };
    default:
      return { low: -1000 * most, high: 1000 * most };
  }
}

/** Conditions noted with the reading that break those of the spec. */
function conditionRefusal(spec: Spec, conditions: Conditions): string | null {
  const text = spec.conditions.toLowerCase();
  const { rest_hours, charge_percent } = conditions;
  if (/\brest(ed)?\b|without charge or load/.test(text) && rest_hours !== undefined) {
    const needed = /two hours/.test(text) ? 2 : leastRestHours;
    if (rest_hours < needed) {
      return `Rested ${say(rest_hours)} h; this holds only after ${needed} h without charge or load.`;
    }
  }
  if (
    /75 %|for 15 s|load test/.test(text) &&
    charge_percent !== undefined &&
    charge_percent < leastLoadCharge
  ) {
    return `At ${say(charge_percent)} % charge this says nothing; charge to ${leastLoadCharge} % or more first.`;
  }
  return null;
}

/** Leads taken off and copper brought to the 20 °C of the spec; null where nothing is to be corrected. */
function correctedValue(
  spec: Spec,
  value: number,
  conditions: Conditions,
): { value: number; words: string } | null {
  const unit = unitNamed(spec.unit);
  const ohm = unitNamed('ohm');
  if (unit?.measures !== 'resistance' || !ohm) return null;
  const { lead_ohm = 0, temperature_c } = conditions;
  const isAt20 = /20 °c/.test(spec.conditions.toLowerCase());
  const isShifted = isAt20 && temperature_c !== undefined && temperature_c !== 20;
  if (lead_ohm === 0 && !isShifted) return null;
  const own = Math.max(0, value - convert(lead_ohm, ohm, unit));
  const at20 = isShifted ? copperAt20(own, temperature_c) : own;
  const result = Number(at20.toPrecision(6));
  const words = isShifted
    ? `${say(own)} ${spec.unit} at ${say(temperature_c)} °C are ${say(result)} ${spec.unit} at 20 °C.`
    : `${say(result)} ${spec.unit} without the leads.`;
  return { value: result, words };
}
