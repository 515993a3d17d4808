import { type Book, type Check, existsOn, type MachineTraits, type Probe } from '../book/index.ts';
import { Problem, quoted } from '../problem.ts';
import type { CheckId, CircuitId } from '../terms.ts';
import { readValue } from './read-value.ts';

/** Conditions of a reading, each with its unit in the name; what was not noted is absent. */
export interface ReadingConditions {
  readonly temperature_c?: number | undefined;
  readonly rest_hours?: number | undefined;
  readonly charge_percent?: number | undefined;
  readonly engine_rpm?: number | undefined;
  readonly current_a?: number | undefined;
  readonly cca_a?: number | undefined;
  readonly capacity_ah?: number | undefined;
  readonly length_m?: number | undefined;
  readonly area_mm2?: number | undefined;
  readonly awg?: number | undefined;
  readonly rating_a?: number | undefined;
  readonly rated_v?: number | undefined;
  readonly rated_w?: number | undefined;
  readonly lead_ohm?: number | undefined;
  readonly instrument?: string | undefined;
  readonly battery?: 'flooded' | 'agm' | 'gel' | 'lithium' | undefined;
  readonly stator?: 'half-wave' | 'three-phase' | undefined;
}

export const lampWords = ['bright', 'dim', 'dark'] as const;
export type LampWord = (typeof lampWords)[number];

export interface OutcomeReading {
  readonly kind: 'outcome';
  readonly checkId: CheckId;
  readonly outcome: string;
}

export interface ValueReading {
  readonly kind: 'value';
  readonly checkId: CheckId;
  /** In the unit of the check. */
  readonly value: number;
  readonly conditions?: ReadingConditions | undefined;
}

/** A probe anywhere in a circuit: V, ohm or A for the meters, a word for the test lamp. */
export interface CircuitReading {
  readonly kind: 'circuit';
  readonly circuitId: CircuitId;
  readonly instrument: Probe['instrument'];
  readonly controls: Readonly<Record<string, string>>;
  readonly unplugged: readonly string[];
  readonly removed: readonly string[];
  readonly value?: number | undefined;
  readonly lamp?: LampWord | undefined;
}

/** A reading that was checked against the book. */
export type GivenReading = OutcomeReading | ValueReading | CircuitReading;

/** A reading as a person or a program hands it in; a `GivenReading` is one too. */
export type ReadingInput =
  | { readonly kind?: 'outcome' | undefined; readonly checkId: string; readonly outcome: string }
  | {
      readonly kind?: 'value' | undefined;
      readonly checkId: string;
      readonly value: number | string;
      readonly unit?: string | undefined;
      readonly conditions?: ReadingConditions | undefined;
    }
  | {
      readonly kind?: 'circuit' | undefined;
      readonly circuitId: string;
      readonly instrument: Probe['instrument'];
      readonly controls?: Readonly<Record<string, string>> | undefined;
      readonly unplugged?: readonly string[] | undefined;
      readonly removed?: readonly string[] | undefined;
      readonly value?: number | string | undefined;
      readonly lamp?: LampWord | undefined;
    };

/**
 * Checks readings against the book and brings values to the unit of their check. A check of another system is
 * accepted: it is evidence with the same chance under every cause. Throws `bad-input` naming the field
 * (`readings[2].outcome`) for an unknown check, one that cannot exist on the machine, an outcome the check does not
 * have, or a value nobody's instrument reads.
 */
export function acceptReadings(
  readings: readonly ReadingInput[],
  book: Book,
  machine: MachineTraits | undefined,
): GivenReading[] {
  return readings.map((reading, place) => acceptReading(reading, book, machine, `readings[${place}]`));
}

export function acceptReading(
  reading: ReadingInput,
  book: Book,
  machine: MachineTraits | undefined,
  field: string,
): GivenReading {
  if ('circuitId' in reading) return acceptCircuitReading(reading, book, field);
  const check = book.checks.get(reading.checkId as CheckId);
  if (!check) {
    throw new Problem('bad-input', `The book has no check ${quoted(reading.checkId)}.`, {
      field: `${field}.checkId`,
      id: reading.checkId,
    });
  }
  if (!existsOn(check.on, machine)) {
    throw new Problem(
      'bad-input',
      `The check ${quoted(check.title)} cannot be done on this machine: it is for machines with ${conditionWords(check)}.`,
      { field: `${field}.checkId`, id: check.id },
    );
  }
  if ('outcome' in reading) {
    if (!check.outcomes.some((outcome) => outcome.id === reading.outcome)) {
      const allowed = check.outcomes.map((outcome) => outcome.id).join(', ');
      throw new Problem(
        'bad-input',
        `The check ${quoted(check.title)} has no outcome ${quoted(reading.outcome)}; it has: ${allowed}.`,
        { field: `${field}.outcome`, id: check.id },
      );
    }
    return { kind: 'outcome', checkId: check.id, outcome: reading.outcome };
  }
  if (!check.quantity) {
    throw new Problem(
      'bad-input',
      `The check ${quoted(check.title)} takes no number; give one of its outcomes: ${check.outcomes.map((o) => o.id).join(', ')}.`,
      { field: `${field}.value`, id: check.id },
    );
  }
  const value = readValue(reading.value, reading.unit, check.quantity.unit, {
    possible: check.quantity.possible,
    field: `${field}.value`,
    unitField: `${field}.unit`,
    name: check.title,
  });
  return {
    kind: 'value',
    checkId: check.id,
    value,
    ...(reading.conditions ? { conditions: reading.conditions } : {}),
  };
}

type CircuitInput = Extract<ReadingInput, { readonly circuitId: string }>;

/** Widest a meter on a scooter reads; beyond it the value is asked about. */
const circuitPossible = {
  voltmeter: { unit: 'V', possible: { low: -500, high: 500 } },
  ohmmeter: { unit: 'ohm', possible: { low: 0, high: 100e6 } },
  ammeter: { unit: 'A', possible: { low: -1000, high: 1000 } },
} as const;

function acceptCircuitReading(reading: CircuitInput, book: Book, field: string): CircuitReading {
  if (!book.circuits.has(reading.circuitId as CircuitId)) {
    throw new Problem('bad-input', `The book has no circuit ${quoted(reading.circuitId)}.`, {
      field: `${field}.circuitId`,
      id: reading.circuitId,
    });
  }
  const { instrument } = reading;
  const base = {
    kind: 'circuit' as const,
    circuitId: reading.circuitId as CircuitId,
    instrument,
    controls: reading.controls ?? {},
    unplugged: reading.unplugged ?? [],
    removed: reading.removed ?? [],
  };
  if (instrument.kind === 'test-lamp' && reading.lamp !== undefined) return { ...base, lamp: reading.lamp };
  if (reading.value === undefined) {
    const wanted = instrument.kind === 'test-lamp' ? 'lamp (bright, dim or dark)' : 'value';
    throw new Problem('bad-input', `A reading with the ${instrument.kind} needs its ${wanted}.`, {
      field: `${field}.${instrument.kind === 'test-lamp' ? 'lamp' : 'value'}`,
    });
  }
  const { unit, possible } = circuitPossible[instrument.kind === 'test-lamp' ? 'voltmeter' : instrument.kind];
  const value = readValue(reading.value, undefined, unit, {
    possible,
    field: `${field}.value`,
    unitField: `${field}.value`,
    name: instrument.kind,
  });
  return { ...base, value };
}

/** The place of the outcome whose range holds the value; the nearest one where the ranges leave a gap; −1 without ranges. */
export function outcomeOfValue(check: Check, value: number): number {
  let nearest = -1;
  let distance = Number.POSITIVE_INFINITY;
  check.outcomes.forEach((outcome, place) => {
    if (!outcome.range) return;
    const low = outcome.range.low ?? Number.NEGATIVE_INFINITY;
    const high = outcome.range.high ?? Number.POSITIVE_INFINITY;
    const away = value < low ? low - value : value >= high ? value - high + Number.MIN_VALUE : 0;
    if (away < distance) {
      nearest = place;
      distance = away;
    }
  });
  return nearest;
}

function conditionWords(check: Check): string {
  return Object.entries(check.on)
    .map(([trait, values]) => `${trait.replaceAll('_', ' ')} ${(values as readonly string[]).join(' or ')}`)
    .join(', ');
}
