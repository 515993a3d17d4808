import type { CauseId, CircuitId } from '../terms.ts';
import type { Basis } from './basis.ts';
import type { ExistsOn } from './machine.ts';
import type { System } from './symptom.ts';

/** What is behind a cause: most are faults; some are a setting, something used up, the rider, or nothing at all. */
export const causeKinds = ['fault', 'adjustment', 'consumable', 'handling', 'normal'] as const;
export type CauseKind = (typeof causeKinds)[number];

export interface Component {
  readonly id: string;
  readonly title: string;
  readonly system: System;
  /** What about it can hurt: every check or repair on it must carry a caution for each (see `hazards`). */
  readonly hazards: readonly Hazard[];
}

export const hazards = [
  'battery',
  'lithium',
  'high-voltage',
  'fuel',
  'fuel-pressure',
  'hot',
  'rotating',
  'belt-drive',
  'brake',
  'coolant',
  'lifting',
  'starter-current',
  'electronics',
  'airbag',
  'spring',
] as const;
export type Hazard = (typeof hazards)[number];

/** How a cause stands in one circuit. */
export type WiringState =
  | {
      readonly faults: readonly {
        readonly component: string;
        readonly mode: string;
        /** In the unit of the mode: ohms, a fraction, {emf_v, resistance_ohm}, {node, ohm}; absent for the standard value. */
        readonly value?: number | Readonly<Record<string, number | string>>;
      }[];
    }
  | { readonly state: 'healthy' };

export interface PartNeed {
  readonly kind: string;
  readonly quantity: number;
}

export interface Repair {
  readonly title: string;
  readonly steps: readonly string[];
  /** Labor, minutes, at least 1. */
  readonly minutes: number;
  readonly parts: readonly PartNeed[];
  /** How to prove that it held: what to retest, how, how long. */
  readonly proof: string;
}

/** One fault mode of one component (or a setting, a consumable, the rider's handling, normal behavior). */
export interface Cause {
  readonly id: CauseId;
  readonly title: string;
  readonly system: System;
  readonly kind: CauseKind;
  readonly componentId: string;
  /** How the component fails: open, resistive, shorted, stuck, worn … */
  readonly faultMode: string;
  readonly on: ExistsOn;
  /** How it shows, in one or two sentences. */
  readonly shows: string;
  /** Chance that the fault shows itself at any one try, above 0 to 1; 1 where it is always there. */
  readonly showsWith: number;
  readonly repair: Repair;
  readonly cautionIds: readonly string[];
  readonly wiring: Readonly<Record<CircuitId, WiringState>>;
  readonly basis: Basis;
}
