import type { Check } from '../../book/index.ts';
import { TEST_LAMP_V } from '../../circuit/index.ts';
import type { LampWord } from '../reading.ts';
import { convert, type Unit, unitNamed } from '../units.ts';
import { meterDeviation, missedProbe, normalBelow, normalDensity } from './meter-error.ts';
import type { MeterKind, ShownValues } from './shown-values.ts';

/** A lamp is bright from 80 % and dim from 15 % of its rated volts; the eye blurs both limits. */
const brightFrom = 0.8 * TEST_LAMP_V;
const dimFrom = 0.15 * TEST_LAMP_V;

const baseUnit: Readonly<Record<MeterKind, string>> = {
  'test-lamp': 'V',
  voltmeter: 'V',
  ohmmeter: 'ohm',
  ammeter: 'A',
};

/** Words by which the outcomes of a lamp check are known, brightest first. */
const lampOutcomes: Readonly<Record<LampWord, readonly string[]>> = {
  bright: ['bright', 'lit', 'lights', 'on', 'yes'],
  dim: ['dim', 'weak', 'glows'],
  dark: ['dark', 'off', 'no', 'none'],
};

/** Chances of a test lamp's words at the volts it gets; even where the reading jumps. */
export function lampChances(values: ShownValues): Record<LampWord, number> {
  const sum = { bright: 0, dim: 0, dark: 0 };
  for (const value of values) {
    const volts = Math.abs(value);
    const deviation = meterDeviation('test-lamp', volts);
    const notBright = Number.isNaN(value) ? 2 / 3 : normalBelow(brightFrom, volts, deviation);
    const dark = Number.isNaN(value) ? 1 / 3 : normalBelow(dimFrom, volts, deviation);
    sum.bright += (1 - missedProbe) * (1 - notBright);
    sum.dim += (1 - missedProbe) * Math.max(0, notBright - dark);
    sum.dark += (1 - missedProbe) * dark + missedProbe;
  }
  const count = values.length;
  return { bright: sum.bright / count, dim: sum.dim / count, dark: sum.dark / count };
}

/** Where each outcome of a lamp check belongs; null when its outcomes are not those of one lamp. */
export function lampPlaces(check: Check): Record<LampWord, number> | null {
  const placeOf = (word: LampWord): number =>
    check.outcomes.findIndex((outcome) => lampOutcomes[word].includes(outcome.id));
  const bright = placeOf('bright');
  const dim = placeOf('dim');
  const dark = placeOf('dark');
  if (bright < 0 || (dark < 0 && dim < 0)) return null;
  // Without a place of its own, a dim lamp still shows that something arrives.
  return { bright, dim: dim < 0 ? bright : dim, dark: dark < 0 ? dim : dark };
}

/** Two lamp probes: both lit, only the first, or none. */
export function twoLampPlaces(check: Check): { both: number; first: number; neither: number } | null {
  const placeOf = (...ids: string[]): number =>
    check.outcomes.findIndex((outcome) => ids.includes(outcome.id));
  const both = placeOf('both');
  const first = placeOf('feed-only', 'first-only', 'one');
  const neither = placeOf('neither', 'none');
  return both >= 0 && first >= 0 && neither >= 0 ? { both, first, neither } : null;
}

interface Scale {
  readonly from: Unit;
  readonly to: Unit;
  /** What an open ohmmeter reads as, in the unit of the check. */
  readonly open: number;
}

export function scaleOf(check: Check, kind: MeterKind): Scale | null {
  const from = unitNamed(baseUnit[kind]);
  const to = check.quantity ? unitNamed(check.quantity.unit) : from;
  if (!from || !to || from.measures !== to.measures) return null;
  return { from, to, open: check.quantity?.possible.high ?? 1e8 };
}

interface Bell {
  readonly mean: number;
  readonly deviation: number;
}

/**
 * `blur`: how far the machines of the spread and the neighboring sizes of the fault lie apart, V, ohm or A; without it a
 * value between two computed ones would look impossible.
 */
function bellOf(kind: MeterKind, value: number, scale: Scale, blur: number): Bell {
  if (value === Number.POSITIVE_INFINITY) return { mean: scale.open, deviation: 0.05 * scale.open };
  const factor = convert(1, scale.from, scale.to) - convert(0, scale.from, scale.to);
  const deviation = Math.hypot(meterDeviation(kind, value), blur);
  return { mean: convert(value, scale.from, scale.to), deviation: factor * deviation };
}

/** Bandwidth of a few machines' readings (Silverman 1986, rule of thumb for five points), and of half a step between sizes. */
const machineBlur = 0.77;
const stepBlur = 0.5;

/** See `bellOf`; `step`: difference to the neighboring sizes of the fault. */
function blurOf(values: ShownValues, step: number): number {
  const finite = values.filter((value) => Number.isFinite(value));
  if (finite.length < 2) return stepBlur * step;
  const mean = finite.reduce((sum, value) => sum + value, 0) / finite.length;
  const variance = finite.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (finite.length - 1);
  return Math.hypot(machineBlur * Math.sqrt(variance), stepBlur * step);
}

/** Chances of the ranges of a measured check; null when some outcome has no range. */
export function rangeChances(check: Check, kind: MeterKind, values: ShownValues, step = 0): number[] | null {
  const scale = scaleOf(check, kind);
  if (!scale || check.outcomes.some((outcome) => !outcome.range)) return null;
  const sums = new Array<number>(check.outcomes.length).fill(0);
  const missed = kind === 'ohmmeter' ? Number.POSITIVE_INFINITY : 0;
  const blur = blurOf(values, step);
  const addShown = (value: number, weight: number): void => {
    const bell = Number.isNaN(value) ? null : bellOf(kind, value, scale, blur);
    check.outcomes.forEach((outcome, place) => {
      const chance = bell ? inRange(outcome.range, bell) : 1 / sums.length;
      sums[place] = (sums[place] as number) + weight * chance;
    });
  };
  for (const value of values) addShown(value, (1 - missedProbe) / values.length);
  addShown(missed, missedProbe);
  const total = sums.reduce((sum, chance) => sum + chance, 0);
  return total > 0 ? sums.map((chance) => chance / total) : null;
}

function inRange(range: Check['outcomes'][number]['range'], bell: Bell): number {
  const below = range?.high == null ? 1 : normalBelow(range.high, bell.mean, bell.deviation);
  const under = range?.low == null ? 0 : normalBelow(range.low, bell.mean, bell.deviation);
  return Math.max(0, below - under);
}

/** Density of a typed value, per unit of the scale: one bell for each machine of the spread, and one for a missed probe. */
export function valueDensity(
  kind: MeterKind,
  values: ShownValues,
  value: number,
  scale: Scale,
  possible: { readonly low: number; readonly high: number },
  step = 0,
): number {
  const blur = blurOf(values, step);
  const missed = bellOf(kind, kind === 'ohmmeter' ? Number.POSITIVE_INFINITY : 0, scale, 0);
  let density = missedProbe * normalDensity(value, missed.mean, missed.deviation);
  for (const shown of values) {
    const bell = Number.isNaN(shown) ? null : bellOf(kind, shown, scale, blur);
    const own = bell ? normalDensity(value, bell.mean, bell.deviation) : 1 / (possible.high - possible.low);
    density += ((1 - missedProbe) / values.length) * own;
  }
  return density;
}

/** "11.9 V", "bright (11.8 V)", "open". */
export function shownWords(kind: MeterKind, value: number): string {
  if (Number.isNaN(value)) return 'jumps about';
  if (value === Number.POSITIVE_INFINITY) return 'open';
  const unit = { V: 'V', ohm: 'Ω', A: 'A' }[baseUnit[kind]];
  const said = `${Math.abs(value) >= 100 ? Math.round(value) : Number(value.toPrecision(Math.abs(value) >= 10 ? 3 : 2))} ${unit}`;
  if (kind !== 'test-lamp') return said;
  const volts = Math.abs(value);
  return `${volts >= brightFrom ? 'bright' : volts >= dimFrom ? 'dim' : 'dark'} (${said})`;
}
