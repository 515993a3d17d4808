/**
 * What a component kind has to say about itself. The solver knows only terms (branches and sensed bits);
 * it never asks which kind they come from.
 */
import type { z } from 'zod';
import type { Component } from './circuit-form.ts';
import type { SeenParts, Sign } from './signs.ts';

/**
 * One branch of the network. Law while it conducts: v(from) − v(to) = emf_v + i · ohm, with i positive from
 * `from` to `to` through the component.
 */
export interface Term {
  /** Name of the way through the component: body, coil, contact … The first one is what an ammeter goes around. */
  readonly path: string;
  readonly from: string;
  readonly to: string;
  /** Resistance in ohms (above 0), or null where the branch is gone. */
  readonly ohm: number | null;
  /** Volts, 0 where absent. For a valve: its forward drop. */
  readonly emf_v?: number;
  /** A sine on top of emf_v: peak volts and phase in degrees. */
  readonly sine?: { readonly peak_v: number; readonly phase_deg: number };
  /** True for a part that supplies energy: an ohmmeter refuses its island. */
  readonly isSource?: boolean;
  /** Conducts only from `from` to `to`, and only while forward biased (diode). */
  readonly isValve?: boolean;
  /** Conducts only while every named bit is as wanted. */
  readonly gate?: readonly { readonly bit: string; readonly is: boolean }[];
}

/** A contact-like state with hysteresis, decided by a voltage. */
export interface Bit {
  readonly name: string;
  readonly plus: string;
  readonly minus: string;
  /** Turns on at this voltage or above. */
  readonly on_v: number;
  /** Turns off below this voltage. */
  readonly off_v: number;
  /** absolute: mean of |v| over the phase angles; signed: mean of v. */
  readonly measure: 'absolute' | 'signed';
  /** False: never turns on (coil open). */
  readonly canTurnOn: boolean;
}

export interface Terms {
  readonly branches: readonly Term[];
  readonly bits?: readonly Bit[];
  /** Branches that exist only under a fault (a wire rubbed through to another node). */
  readonly extra?: readonly Term[];
}

export interface AppliedFault {
  readonly mode: string;
  /** As parsed by the mode's value form, or its standard value. */
  readonly value: unknown;
}

/** How the component stands: its faults by slot, and where its controls are. */
export interface Situation {
  /** The fault in a slot, if any. */
  fault(slot: string): AppliedFault | undefined;
  position(control: string): string;
  /** Name of the reference node. */
  readonly ground: string;
}

export interface FaultMode<C = Component> {
  /** Two modes of one component can be combined only when they sit in different slots. */
  readonly slot: string;
  readonly title: string;
  /** Absent: the mode takes no value. */
  readonly value?: {
    readonly form: z.ZodType;
    /** ohm, fraction, battery or node: what the value is. */
    readonly unit: 'ohm' | 'fraction' | 'battery' | 'node' | 'index';
    /** The value where none is given; null: it must be given. */
    standard(component: C): unknown;
  };
}

export interface Terminal {
  /** positive, coil-1, contact-2 … */
  readonly name: string;
  readonly node: string;
}

export interface ComponentKind {
  readonly kind: string;
  readonly form: z.ZodType<Component>;
  readonly faultModes: Readonly<Record<string, FaultMode>>;
  terminals(component: Component): readonly Terminal[];
  /** Nodes inside the component that no probe reaches. */
  innerNodes(component: Component): readonly string[];
  /** Every control the component follows, with the positions it names. */
  follows(component: Component): readonly { control: string; positions: readonly string[]; field: string }[];
  terms(component: Component, situation: Situation): Terms;
  /** What a rider or technician notices of it, or null when there is nothing to notice. */
  sign(component: Component, seen: SeenParts, situation: Situation): Sign | null;
}

interface KindOf<C> {
  readonly kind: string;
  readonly form: z.ZodType<C>;
  readonly faultModes: Readonly<Record<string, FaultMode<C>>>;
  terminals(component: C): readonly Terminal[];
  innerNodes?(component: C): readonly string[];
  follows?(component: C): readonly { control: string; positions: readonly string[]; field: string }[];
  terms(component: C, situation: Situation): Terms;
  sign?(component: C, seen: SeenParts, situation: Situation): Sign | null;
}

/**
 * Seals a kind written for its own component type into the kind table. The cast is sound because the table
 * is only ever asked with components that the same kind's form has parsed.
 */
export function defineKind<C extends Component>(own: KindOf<C>): ComponentKind {
  const as = (component: Component): C => component as C;
  const modes: Record<string, FaultMode> = {};
  for (const [mode, { value, ...rest }] of Object.entries(own.faultModes)) {
    modes[mode] = value ? { ...rest, value: { ...value, standard: (c) => value.standard(as(c)) } } : rest;
  }
  return {
    kind: own.kind,
    form: own.form as z.ZodType<Component>,
    faultModes: modes,
    terminals: (c) => own.terminals(as(c)),
    innerNodes: (c) => own.innerNodes?.(as(c)) ?? [],
    follows: (c) => own.follows?.(as(c)) ?? [],
    terms: (c, situation) => own.terms(as(c), situation),
    sign: (c, seen, situation) => own.sign?.(as(c), seen, situation) ?? null,
  };
}
