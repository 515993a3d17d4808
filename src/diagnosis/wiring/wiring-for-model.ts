import type { Book, Cause, Check, Model, Probe } from '../../book/index.ts';
import { type Circuit, type Fault, type Instrument, solveCircuit } from '../../circuit/index.ts';
import type { CauseId, CircuitId } from '../../terms.ts';
import type { CircuitReading } from '../reading.ts';
import {
  lampChances,
  lampPlaces,
  rangeChances,
  scaleOf,
  shownWords,
  twoLampPlaces,
  valueDensity,
} from './outcome-of-values.ts';
import { type Severity, severitiesOfFaults, severityWeights } from './severities.ts';
import { type CircuitReadings, circuitReadings, type ShownValues, type WiringCache } from './shown-values.ts';
import type { WiringLikelihood } from './wiring-likelihood.ts';

const soundFaults: readonly Fault[] = [];
const soundSeverity: readonly Severity[] = [{ faults: soundFaults, weight: 1 }];

/**
 * The wiring of a model as likelihoods: each check with probes in one of its circuits reads what the solved circuit shows
 * under each cause that is mapped there, at every severity, over the spread of parts and the error of the meter. Without a
 * model every circuit counts. A cause without a mapping in a circuit keeps its table. Null where no circuit is at hand.
 * Hand in the same `cache` again for the same book and circuits.
 */
export function wiringLikelihood(
  book: Book,
  circuits: ReadonlyMap<CircuitId, Circuit>,
  model: Model | null,
  cache: WiringCache = new Map(),
): WiringLikelihood | null {
  const own = model ? model.circuitIds.filter((id) => circuits.has(id)) : [...circuits.keys()];
  if (own.length === 0) return null;

  const readingsOf = (circuitId: CircuitId): CircuitReadings | null => {
    const kept = cache.get(circuitId);
    if (kept) return kept;
    const circuit = circuits.get(circuitId);
    if (!circuit || !own.includes(circuitId)) return null;
    const probes = [...book.checks.values()].flatMap((check) =>
      check.probes.filter((probe) => probe.circuitId === circuitId),
    );
    const made = circuitReadings(circuit, probes);
    cache.set(circuitId, made);
    return made;
  };

  const severities = new Map<string, readonly Severity[] | null>();
  /** The severities of a cause in a circuit; null where it has no mapping there. A null cause is the healthy machine. */
  const inCircuit = (circuitId: CircuitId, causeId: CauseId | null): readonly Severity[] | null => {
    if (causeId === null) return soundSeverity;
    const key = `${circuitId} ${causeId}`;
    const kept = severities.get(key);
    if (kept !== undefined) return kept;
    const state = book.causes.get(causeId)?.wiring[circuitId];
    const circuit = circuits.get(circuitId);
    let found: readonly Severity[] | null = null;
    if (state && circuit)
      found = 'state' in state ? soundSeverity : severitiesOfFaults(circuit, state.faults);
    severities.set(key, found);
    return found;
  };

  /** The probes of a check in the first of the machine's circuits that it has probes in. */
  const probesOf = (check: Check): readonly Probe[] => {
    const circuitId = own.find((id) => check.probes.some((probe) => probe.circuitId === id));
    return circuitId === undefined ? [] : check.probes.filter((probe) => probe.circuitId === circuitId);
  };

  /**
   * Asks `of` at every severity of a cause (or at one); null as soon as one reading is not to be had. `step` is how far
   * the nominal reading moves from one severity to the next.
   */
  const overSeverities = <T>(
    probe: Probe,
    causeId: CauseId | null,
    severity: number | undefined,
    of: (values: ShownValues, weight: number, step: number) => T,
  ): T[] | null => {
    const readings = readingsOf(probe.circuitId);
    const sizes = inCircuit(probe.circuitId, causeId);
    if (!readings || !sizes) return null;
    const shown = sizes.map((size) => readings.shown(probe, size.faults));
    const results: T[] = [];
    for (const [place, size] of sizes.entries()) {
      if (severity !== undefined && sizes.length > 1 && place !== Math.min(severity, sizes.length - 1))
        continue;
      const values = shown[place];
      if (!values) return null;
      const neighbors = [shown[place - 1]?.[0], values[0], shown[place + 1]?.[0]].filter(
        (value): value is number => value !== undefined && Number.isFinite(value),
      );
      const step = (Math.max(...neighbors) - Math.min(...neighbors)) / Math.max(1, neighbors.length - 1);
      results.push(of(values, severity === undefined ? size.weight : 1, Number.isFinite(step) ? step : 0));
    }
    return results;
  };

  const kept = new Map<string, readonly number[] | null>();
  const chancesFor: WiringLikelihood['chancesFor'] = (checkId, causeId, severity) => {
    const key = `${checkId} ${causeId} ${severity}`;
    const known = kept.get(key);
    if (known !== undefined) return known;
    const chances = computeChances(checkId, causeId, severity);
    kept.set(key, chances);
    return chances;
  };
  const computeChances: WiringLikelihood['chancesFor'] = (checkId, causeId, severity) => {
    const check = book.checks.get(checkId);
    const probes = check ? probesOf(check) : [];
    const [first, second] = probes;
    if (!check || !first || isBeyondWiring(check, first, causeId)) return null;
    const one = overSeverities(first, causeId, severity, (values, weight, step) => ({
      values,
      weight,
      step,
    }));
    const two = second ? overSeverities(second, causeId, severity, (values) => values) : null;
    if (!one) return null;
    let sum: number[] | null = null;
    for (const [place, { values, weight, step }] of one.entries()) {
      const chances = second
        ? twoLampChances(check, values, two?.[place] ?? null)
        : chancesOfValues(check, first, values, step);
      if (!chances) return null;
      sum = chances.map((chance, outcome) => (sum?.[outcome] ?? 0) + weight * chance);
    }
    return sum;
  };

  return {
    severitiesOf(causeId) {
      const isGradual = own.some((id) => (inCircuit(id, causeId)?.length ?? 1) > 1);
      return isGradual ? severityWeights : [1];
    },
    chancesFor,
    pairChancesFor(checkId, first, second) {
      const check = book.checks.get(checkId);
      const probes = check ? probesOf(check) : [];
      const [probe] = probes;
      if (!check || !probe || probes.length > 1) return null;
      const [one, other] = [first, second].map((id) => inCircuit(probe.circuitId, id));
      if (!one || !other) return null;
      const faults = [...middleOf(one).faults, ...middleOf(other).faults];
      const values = readingsOf(probe.circuitId)?.shown(probe, faults);
      return values ? chancesOfValues(check, probe, values, 0) : null;
    },
    densityFor(checkId, causeId, value, severity) {
      const check = book.checks.get(checkId);
      const probes = check ? probesOf(check) : [];
      const [probe] = probes;
      if (!check?.quantity || !probe || probes.length > 1 || probe.instrument.kind === 'test-lamp')
        return null;
      const { kind } = probe.instrument;
      const { possible } = check.quantity;
      const scale = scaleOf(check, kind);
      if (!scale) return null;
      const parts = overSeverities(
        probe,
        causeId,
        severity,
        (values, weight, step) => weight * valueDensity(kind, values, value, scale, possible, step),
      );
      return parts ? parts.reduce((sum, part) => sum + part, 0) : null;
    },
    circuitLikelihood(reading, causeId, severity) {
      const probe: Probe = { ...reading, instrument: reading.instrument };
      const sizes = overSeverities(
        probe,
        causeId,
        severity,
        (values, weight, step) => weight * probeLikelihood(reading, values, step),
      );
      return sizes ? sizes.reduce((sum, part) => sum + part, 0) : null;
    },
    checkProbe({ circuitId, instrument, controls, unplugged, removed }) {
      const circuit = circuits.get(circuitId);
      if (circuit)
        solveCircuit(circuit, { instrument: instrument as Instrument, controls, unplugged, removed });
    },
    expectedWords(checkId, causeId) {
      const check = book.checks.get(checkId);
      const probes = check ? probesOf(check) : [];
      const said = probes.map((probe) => {
        const nominal = overSeverities(probe, causeId, undefined, (values) => values[0] as number);
        return nominal && wordsOf(probe, nominal);
      });
      return said.length > 0 && said.every((words) => words !== null) ? said.join(', ') : null;
    },
  };

  /** True where the table names an outcome for this cause that no reading can stand for (a flicker, both plugs warm …). */
  function isBeyondWiring(check: Check, probe: Probe, causeId: CauseId | null): boolean {
    if (
      causeId === null ||
      probe.instrument.kind !== 'test-lamp' ||
      check.outcomes.every((outcome) => outcome.range)
    )
      return false;
    const places = lampPlaces(check);
    const known = places ? new Set(Object.values(places)) : null;
    return (
      known !== null &&
      Object.keys(check.when[causeId] ?? {}).some(
        (id) => !known.has(check.outcomes.findIndex((one) => one.id === id)),
      )
    );
  }
}

const middleOf = (sizes: readonly Severity[]): Severity => sizes[sizes.length >> 1] as Severity;

function chancesOfValues(check: Check, probe: Probe, values: ShownValues, step: number): number[] | null {
  const { kind } = probe.instrument;
  const byRange = rangeChances(check, kind, values, step);
  if (byRange || kind !== 'test-lamp') return byRange;
  const places = lampPlaces(check);
  if (!places) return null;
  const words = lampChances(values);
  const chances = new Array<number>(check.outcomes.length).fill(0);
  for (const word of ['bright', 'dim', 'dark'] as const) {
    chances[places[word]] = (chances[places[word]] as number) + words[word];
  }
  return chances;
}

function twoLampChances(check: Check, first: ShownValues, second: ShownValues | null): number[] | null {
  const places = twoLampPlaces(check);
  if (!places || !second) return null;
  const chances = new Array<number>(check.outcomes.length).fill(0);
  first.forEach((value, sample) => {
    const one = 1 - lampChances([value]).dark;
    const other = 1 - lampChances([second[sample] as number]).dark;
    chances[places.both] = (chances[places.both] as number) + (one * other) / first.length;
    chances[places.first] = (chances[places.first] as number) + (one * (1 - other)) / first.length;
    chances[places.neither] = (chances[places.neither] as number) + (1 - one) / first.length;
  });
  return chances;
}

function probeLikelihood(reading: CircuitReading, values: ShownValues, step: number): number {
  if (reading.lamp !== undefined) return lampChances(values)[reading.lamp];
  const { kind } = reading.instrument;
  const possible = kind === 'ohmmeter' ? { low: 0, high: 100e6 } : { low: -500, high: 500 };
  const scale = scaleOf({ quantity: null } as unknown as Check, kind);
  return scale
    ? valueDensity(kind, values, reading.value ?? 0, { ...scale, open: 100e6 }, possible, step)
    : 1;
}

/** One value where the severities agree to a tenth, else from the least to the greatest. */
function wordsOf(probe: Probe, nominal: readonly number[]): string {
  const { kind } = probe.instrument;
  const numbers = nominal.filter((value) => !Number.isNaN(value));
  if (numbers.length === 0) return shownWords(kind, Number.NaN);
  const least = Math.min(...numbers);
  const most = Math.max(...numbers);
  if (most - least <= 0.1 * Math.max(1, Math.abs(most)))
    return shownWords(kind, numbers[Math.floor(numbers.length / 2)] as number);
  return `${shownWords(kind, least)} to ${shownWords(kind, most)}`;
}

/** For the drawing and for tests: the faults of a cause in a circuit at each severity; empty where it has no mapping. */
export function causeSeverities(cause: Cause, circuit: Circuit): readonly Severity[] {
  const state = cause.wiring[circuit.id as CircuitId];
  if (!state) return [];
  return 'state' in state ? soundSeverity : severitiesOfFaults(circuit, state.faults);
}
