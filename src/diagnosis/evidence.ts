import type { Book, Cause, Check } from '../book/index.ts';
import type { CheckId } from '../terms.ts';
import { copperAt20 } from './judge/copper.ts';
import {
  healthyChances,
  shownChances,
  slipChance,
  unlistedChances,
  unlistedHealthyPart,
} from './outcome-chances.ts';
import { type CircuitReading, type GivenReading, outcomeOfValue, type ValueReading } from './reading.ts';
import { convert, unitNamed } from './units.ts';
import type { WiringLikelihood } from './wiring/wiring-likelihood.ts';

/** What was seen at one check or probe. A check read again replaces what it showed before. */
export interface Fact {
  /** Place of the reading in the list that was given. */
  readonly place: number;
  readonly check: Check | null;
  /** Place of the outcome in the check; −1 where only the number speaks. */
  readonly outcome: number;
  /** How many tries in a row showed the same outcome: only an intermittent fault cares. */
  readonly tries: number;
  readonly value: ValueReading | null;
  readonly probe: CircuitReading | null;
}

/** The readings weighed against every cause; the last place is the cause that the book does not list. */
export interface Evidence {
  readonly facts: readonly Fact[];
  /** Likelihood of all readings together, scaled so that the largest is 1. */
  readonly likelihood: Float64Array;
  /** For each fact, per cause: how much less likely the reading is than the cause makes its readings on average, in nats; 0 or below is unsurprising. */
  readonly surprise: readonly Float64Array[];
  /** True where the fact tells any two of the causes apart. */
  readonly tellsApart: readonly boolean[];
  /** Per cause, how the readings weigh its severities; sums to 1. */
  readonly severities: readonly (readonly number[])[];
}

export function factsOf(readings: readonly GivenReading[], book: Book): Fact[] {
  const facts = new Map<string, Fact>();
  readings.forEach((reading, place) => {
    if (reading.kind === 'circuit') {
      const { instrument, controls, unplugged, removed, circuitId } = reading;
      const key = JSON.stringify([circuitId, instrument, controls, unplugged, removed]);
      facts.set(key, { place, check: null, outcome: -1, tries: 1, value: null, probe: reading });
      return;
    }
    const check = book.checks.get(reading.checkId);
    if (!check) return;
    const value = reading.kind === 'value' ? { ...reading, value: valueAtSpec(book, check, reading) } : null;
    const outcome =
      reading.kind === 'outcome'
        ? check.outcomes.findIndex((one) => one.id === reading.outcome)
        : outcomeOfValue(check, value?.value ?? reading.value);
    const before = facts.get(reading.checkId);
    const tries = before && before.outcome === outcome ? before.tries + 1 : 1;
    // Deleted first so that facts stand in the order in which they were last read.
    facts.delete(reading.checkId);
    facts.set(reading.checkId, { place, check, outcome, tries, value, probe: null });
  });
  return [...facts.values()];
}

/** A resistance without the leads, and at the 20 °C of its spec where the reading notes another temperature. */
export function valueAtSpec(book: Book, check: Check, reading: ValueReading): number {
  const { value, conditions } = reading;
  const unit = check.quantity ? unitNamed(check.quantity.unit) : undefined;
  const ohm = unitNamed('ohm');
  if (!conditions || unit?.measures !== 'resistance' || !ohm) return value;
  const own = Math.max(0, value - convert(conditions.lead_ohm ?? 0, ohm, unit));
  const spec = check.specId ? book.specs.get(check.specId) : undefined;
  const isAt20 = spec !== undefined && /20 °c/i.test(spec.conditions);
  return isAt20 && conditions.temperature_c !== undefined ? copperAt20(own, conditions.temperature_c) : own;
}

/**
 * Weighs readings against causes. Under each severity of a cause the readings are independent; the severities are
 * summed with their weights. Typed numbers are used as numbers where the wiring gives a density, else by the outcome
 * whose range holds them.
 */
export function weighReadings(
  book: Book,
  causes: readonly Cause[],
  readings: readonly GivenReading[],
  wiring: WiringLikelihood | null,
): Evidence {
  const facts = factsOf(readings, book);
  const width = causes.length + 1;
  const logs = new Float64Array(width);
  const surprise = facts.map(() => new Float64Array(width));
  const severities: (readonly number[])[] = [];
  for (let k = 0; k < width; k++) {
    const cause = causes[k] ?? null;
    const weights = (cause && wiring?.severitiesOf(cause.id)) || [1];
    const perSeverity = weights.map((weight, severity) => {
      let log = Math.log(Math.max(weight, 1e-12));
      for (const fact of facts) log += Math.log(factLikelihood(fact, cause, wiring, severity));
      return log;
    });
    const most = Math.max(...perSeverity);
    const relative = perSeverity.map((log) => Math.exp(log - most));
    const total = relative.reduce((sum, one) => sum + one, 0);
    logs[k] = most + Math.log(total);
    severities.push(relative.map((one) => one / total));
    facts.forEach((fact, place) => {
      (surprise[place] as Float64Array)[k] = surpriseOf(
        fact,
        cause,
        wiring,
        severities[k] as readonly number[],
      );
    });
  }
  const best = Math.max(...logs);
  const likelihood = logs.map((log) => Math.exp(log - best));
  const tellsApart = facts.map((fact) => {
    if (causes.length < 2) return causes.length === 1;
    const values = causes.map((cause) => factLikelihood(fact, cause, wiring, undefined));
    return Math.max(...values) - Math.min(...values) > 1e-9;
  });
  return { facts, likelihood, surprise, tellsApart, severities };
}

/** Chance (or density) of what was seen under a cause; a null cause is the one that the book does not list. */
export function factLikelihood(
  fact: Fact,
  cause: Cause | null,
  wiring: WiringLikelihood | null,
  severity: number | undefined,
): number {
  if (fact.probe) return probeLikelihood(fact.probe, cause, wiring, severity);
  const check = fact.check as Check;
  const density =
    fact.value && wiring ? valueDensity(check, fact.value.value, cause, wiring, severity) : null;
  if (density !== null) return density;
  if (fact.outcome < 0) return 1;
  const chances = cause ? shownChances(check, cause, wiring, severity) : unlistedChances(check, wiring);
  const chance = chances[fact.outcome] as number;
  if (fact.tries === 1 || !cause || cause.showsWith >= 1) return chance;
  return chance ** fact.tries;
}

/** Density of a typed number per unit; null unless the wiring computes this check. */
function valueDensity(
  check: Check,
  value: number,
  cause: Cause | null,
  wiring: WiringLikelihood,
  severity: number | undefined,
): number | null {
  const healthy = wiring.densityFor(check.id, null, value);
  if (healthy === null || !check.quantity) return null;
  const { low, high } = check.quantity.possible;
  const even = 1 / Math.max(high - low, 1e-9);
  if (!cause) {
    return slipped(unlistedHealthyPart * healthy + (1 - unlistedHealthyPart) * even, even);
  }
  let density = wiring.densityFor(check.id, cause.id, value, severity);
  if (density === null) density = check.when[cause.id] ? tableDensity(check, value, cause) : healthy;
  return slipped(cause.showsWith * density + (1 - cause.showsWith) * healthy, even);
}

/** The table's chance of the outcome spread evenly over its range, for a cause the wiring does not know. */
function tableDensity(check: Check, value: number, cause: Cause): number {
  const place = outcomeOfValue(check, value);
  const outcome = check.outcomes[place];
  if (!outcome || !check.quantity) return 0;
  const low = Math.max(outcome.range?.low ?? check.quantity.possible.low, check.quantity.possible.low);
  const high = Math.min(outcome.range?.high ?? check.quantity.possible.high, check.quantity.possible.high);
  return (shownChances(check, cause)[place] as number) / Math.max(high - low, 1e-9);
}

function slipped(density: number, even: number): number {
  return (1 - slipChance) * density + slipChance * even;
}

/** Meters on a raw probe are taken to read anything within this span when a slip happens, in the unit of the meter. */
const probeSpan = 30;

function probeLikelihood(
  probe: CircuitReading,
  cause: Cause | null,
  wiring: WiringLikelihood | null,
  severity: number | undefined,
): number {
  const healthy = wiring?.circuitLikelihood(probe, null);
  if (!wiring || healthy === null || healthy === undefined) return 1;
  const even = probe.lamp === undefined ? 1 / probeSpan : 1 / 3;
  if (!cause) return slipped(unlistedHealthyPart * healthy + (1 - unlistedHealthyPart) * even, even);
  const shown = wiring.circuitLikelihood(probe, cause.id, severity) ?? healthy;
  return slipped(cause.showsWith * shown + (1 - cause.showsWith) * healthy, even);
}

/** Expected log-chance of the cause's own readings less the log-chance of what was seen. */
function surpriseOf(
  fact: Fact,
  cause: Cause | null,
  wiring: WiringLikelihood | null,
  severities: readonly number[],
): number {
  const { check } = fact;
  if (!check || fact.outcome < 0) return 0;
  const chances = meanChances(check, cause, wiring, severities);
  let expected = 0;
  for (const chance of chances) expected += chance * Math.log(chance);
  return expected - Math.log(chances[fact.outcome] as number);
}

/** Chances of a check's outcomes under a cause, averaged over its severities by `weights`. */
export function meanChances(
  check: Check,
  cause: Cause | null,
  wiring: WiringLikelihood | null,
  weights: readonly number[],
): number[] {
  if (!cause) return unlistedChances(check, wiring);
  if (weights.length <= 1 || !wiring) return shownChances(check, cause, wiring);
  const mean = new Array<number>(check.outcomes.length).fill(0);
  weights.forEach((weight, severity) => {
    if (weight < 1e-6) return;
    shownChances(check, cause, wiring, severity).forEach((chance, place) => {
      mean[place] = (mean[place] as number) + weight * chance;
    });
  });
  const total = mean.reduce((sum, chance) => sum + chance, 0);
  return mean.map((chance) => chance / total);
}

/** Chances on a machine with two causes at once: see METHOD.md. */
export function pairChances(check: Check, first: readonly number[], second: readonly number[]): number[] {
  const healthy = healthyChances(check);
  const sees = (chances: readonly number[]): boolean =>
    chances.some((chance, place) => Math.abs(chance - (healthy[place] as number)) > 0.05);
  if (!sees(first)) return [...second];
  if (!sees(second)) return [...first];
  const sound = healthy.indexOf(Math.max(...healthy));
  const chances = healthy.map((_, place) => {
    const a = first[place] as number;
    const b = second[place] as number;
    return place === sound ? (a * b) / Math.max(healthy[place] as number, 0.5) : 1 - (1 - a) * (1 - b);
  });
  const total = chances.reduce((sum, chance) => sum + chance, 0);
  return chances.map((chance) => chance / total);
}

export function isReadCheck(facts: readonly Fact[], checkId: CheckId): boolean {
  return facts.some((fact) => fact.check?.id === checkId);
}
