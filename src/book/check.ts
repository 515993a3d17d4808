import type { CauseId, CheckId, CircuitId, SpecId, SymptomId } from '../terms.ts';
import type { Basis } from './basis.ts';
import type { ExistsOn } from './machine.ts';
import type { Symptom, System } from './symptom.ts';

export const checkKinds = ['ask', 'look', 'listen', 'feel', 'probe', 'measure'] as const;
export type CheckKind = (typeof checkKinds)[number];

export const instruments = [
  'none',
  'test-lamp',
  'voltmeter',
  'ac-voltmeter',
  'ohmmeter',
  'clamp-ammeter',
  'series-milliammeter',
  'peak-adapter',
  'battery-tester',
  'hydrometer',
  'revolution-counter',
  'thermometer',
  'spark-tester',
  'timing-light',
  'compression-gauge',
  'leak-down-tester',
  'vacuum-gauge',
  'pressure-gauge',
  'fuel-pressure-gauge',
  'feeler-gauge',
  'caliper',
  'micrometer',
  'dial-gauge',
  'torque-wrench',
  'spring-scale',
  'measuring-cup',
  'fault-code-reader',
  'flashlight',
] as const;
export type Instrument = (typeof instruments)[number];

/** A number that a check takes. */
export interface Quantity {
  /** Such as voltage, resistance, pressure, width. */
  readonly name: string;
  readonly unit: string;
  /** Outside of this nobody's instrument reads; such a value is asked about, not stored. */
  readonly possible: { readonly low: number; readonly high: number };
}

export interface Outcome {
  readonly id: string;
  readonly title: string;
  /** What the answer would mean. */
  readonly means: string;
  /** Chance of this outcome where nothing that this check can see is wrong, 0 to 1. */
  readonly healthy: number;
  /** For numbers: from low (inclusive) up to high (exclusive); null is open. */
  readonly range?: { readonly low: number | null; readonly high: number | null };
}

/** Where the probes go in one circuit, and what is operated: the wiring computes the reading from it. */
export interface Probe {
  readonly circuitId: CircuitId;
  readonly instrument:
    | {
        readonly kind: 'test-lamp' | 'voltmeter' | 'ohmmeter';
        readonly lead: string;
        readonly tip: string;
        readonly mode?: 'dc' | 'ac';
      }
    | { readonly kind: 'ammeter'; readonly around: string };
  readonly controls: Readonly<Record<string, string>>;
  readonly unplugged: readonly string[];
  readonly removed: readonly string[];
}

/** One thing a person can do that tells causes apart. */
export interface Check {
  readonly id: CheckId;
  readonly title: string;
  readonly system: System;
  readonly kind: CheckKind;
  readonly instrument: Instrument;
  /** A customer can answer it on the phone. */
  readonly phone: boolean;
  readonly on: ExistsOn;
  /** Its words take one of these complaints for granted, so that it is offered for no other; none means for any. */
  readonly symptomIds: readonly SymptomId[];
  readonly place: string;
  /** What must be open or apart first; done once it costs nothing the second time. */
  readonly access: readonly string[];
  /** What is held or switched while reading, in the trade's words: key → on, brake lever → held. */
  readonly controls: Readonly<Record<string, string>>;
  /** Ids of preconditions. */
  readonly needs: readonly string[];
  /** Touch time, minutes, above 0, access included. */
  readonly minutes: number;
  /** Time that passes without hands on it (charging, cooling down), minutes. */
  readonly waitMinutes: number;
  readonly steps: readonly string[];
  readonly healthy: string;
  readonly specId: SpecId | null;
  readonly quantity: Quantity | null;
  readonly cautionIds: readonly string[];
  readonly outcomes: readonly Outcome[];
  /** Per cause the chances of its outcomes; what is left over is shared as on a healthy machine. */
  readonly when: Readonly<Record<CauseId, Readonly<Record<string, number>>>>;
  readonly probes: readonly Probe[];
  readonly basis: Basis;
}

/**
 * Whether a check makes sense for a complaint: its words do not take another one for granted, and what it operates can be operated.
 * Without power no button does anything; an engine that never runs cannot be idled.
 */
export function fitsSymptom(
  { symptomIds, controls }: Pick<Check, 'symptomIds' | 'controls'>,
  symptom: Pick<Symptom, 'id' | 'lacks'>,
): boolean {
  if (symptomIds.length > 0 && !symptomIds.includes(symptom.id)) return false;
  const noPower = symptom.lacks.includes('power');
  if ('engine' in controls && (noPower || symptom.lacks.includes('running-engine'))) return false;
  return !(noPower && controls['start-button'] === 'pressed');
}

/** What must be so before other checks mean anything: battery charged, engine turns by hand … */
export interface Precondition {
  readonly id: string;
  readonly title: string;
  readonly because: string;
  /** The check that settles it, and the outcomes that say it is so. */
  readonly checkId: CheckId;
  readonly metBy: readonly string[];
  /** What to do when it is not so. */
  readonly otherwise: string;
  readonly elapsedMinutes: number;
}
