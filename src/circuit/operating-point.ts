/**
 * Finds the state in which every contact and every valve agrees with its own voltage. Contacts start released
 * and valves off; in each step the network is solved and all of them are updated together. A state seen before
 * means that it never comes to rest: chatter.
 */
import { Problem } from '../problem.ts';
import { type Assembly, componentAt } from './assemble.ts';
import type { SensedBit } from './compile-circuit.ts';
import { islandAt, keyOf, type Load, type Loaded, Network, type System, voltsAt } from './network.ts';
import { misplacedValves } from './valve-step.ts';

export type { Load } from './network.ts';

/** More steps than this without rest or repetition is given up (a circuit that counts, not one that starts). */
const MOST_STEPS = 5_000;

export interface PhasePoint extends Loaded {
  readonly angle_rad: number;
  readonly valves: Uint8Array;
  /** By node number, with the load. */
  readonly volts: readonly number[];
  /** Without the load: 0 is ground's island. */
  readonly island: readonly number[];
  readonly system: System;
}

export interface State {
  readonly bits: Uint8Array;
  readonly points: readonly PhasePoint[];
}

export interface OperatingPoint {
  readonly assembly: Assembly;
  readonly load: Load | null;
  readonly chatter: boolean;
  /** The resting state; with chatter the last one visited. */
  readonly state: State;
  /** With chatter: the states that repeat. Else empty. */
  readonly cycle: readonly State[];
  /** Components whose contact takes part in the chatter. */
  readonly chattering: readonly string[];
}

/** What stands across a load, by angle. */
export interface Across {
  readonly volts: readonly number[];
  /** Its ends are in different islands at every angle. */
  readonly loadFloats: boolean;
}

/** Solves one assembly for one instrument after the other. */
export class PointFinder {
  readonly assembly: Assembly;
  readonly #network: Network;
  readonly #moving: (readonly number[])[] = [];
  /** The states visited without a load, and where that ended. */
  #trail: { readonly states: readonly State[]; readonly point: OperatingPoint } | undefined;

  constructor(assembly: Assembly) {
    this.assembly = assembly;
    this.#network = new Network(assembly);
  }

  find(load: Load | null): OperatingPoint {
    if (!load) return this.#unloaded().point;
    return this.#alongTrail(load) ?? this.#walk(load).point;
  }

  /**
   * Volts from tip to lead of a passive load at each angle, or null with chatter. The same as at find(load), but
   * where the load's current is too small to move any contact or valve on the way, only its own ends are solved for.
   */
  voltsAcross(load: Load): Across | null {
    const quick = load.emf_v === 0 ? this.#acrossWeakLoad(load) : null;
    if (quick) return quick;
    const point = this.find(load);
    if (point.chatter) return null;
    const { points } = point.state;
    return {
      volts: points.map((at) => voltsOfLoad(at, load)),
      loadFloats: points.every(({ loadFloats }) => loadFloats),
    };
  }

  #acrossWeakLoad(load: Load): Across | null {
    const { states, point } = this.#unloaded();
    if (point.chatter || states.length === 0) return null;
    // Without contacts there is one resting state, whatever the way to it: only that one need be looked at.
    const hasContacts = this.assembly.bits.length > 0;
    for (let step = hasContacts ? 0 : states.length; step < states.length; step++) {
      const { points } = states[step] as State;
      const limits_a = this.#movingAmps(step);
      if (points.some((at, angle) => !isWeak(at, load, limits_a[angle] as number))) return null;
    }
    const limits_a = this.#movingAmps(states.length - 1);
    const volts: number[] = [];
    let floats = true;
    let inner = 0;
    let system: System | undefined;
    for (const [angle, at] of point.state.points.entries()) {
      if (isWeak(at, load, limits_a[angle] as number)) {
        if (at.system !== system) inner = this.#network.ohmsBetween(at.system, load.tip, load.lead);
        system = at.system;
        floats = false;
        volts.push((between(at, load) * load.ohm) / (load.ohm + inner));
      } else {
        const loaded = this.#solveAngle(point.state.bits, at.valves, angle, load, at.system);
        if (!isSame(this.#nextValves(at.valves, loaded.volts, loaded.joined), at.valves)) return null;
        floats &&= loaded.loadFloats;
        volts.push(voltsOfLoad(loaded, load));
      }
    }
    return { volts, loadFloats: floats };
  }

  /**
   * By angle: a current, between any two nodes, that is surely too small to move a contact or valve in this step
   * of the unloaded trail. A current i moves the volts between two nodes of a resistor network by at most i times
   * the resistance the network shows between them, so each margin over that resistance bounds it.
   */
  #movingAmps(step: number): readonly number[] {
    const known = this.#moving[step];
    if (known) return known;
    const state = this.#unloaded().states[step] as State;
    const sensed = new Float64Array(state.bits.length);
    for (const { volts, joined } of state.points) this.#sense(volts, joined, sensed);
    const limits: number[] = state.points.map(() => Number.POSITIVE_INFINITY);
    let contacts = Number.POSITIVE_INFINITY;
    for (const [angle, { system, island, volts, valves }] of state.points.entries()) {
      const bound = (plus: number, minus: number, margin_v: number) =>
        islandAt(island, plus) === islandAt(island, minus)
          ? margin_v / this.#network.ohmsBetween(system, plus, minus)
          : Number.POSITIVE_INFINITY;
      for (const [k, bit] of this.assembly.bits.entries()) {
        const threshold = state.bits[k] === 1 ? bit.off_v : bit.on_v;
        const margin_v = Math.abs((sensed[k] as number) / state.points.length - threshold);
        if (bit.canTurnOn) contacts = Math.min(contacts, bound(bit.plus, bit.minus, margin_v));
      }
      for (const { from, to, emf_v, valve } of this.#network.valves) {
        // Loops over islands are left to the full solution.
        const isAcross = islandAt(island, from) !== islandAt(island, to) && valves[valve] === 0;
        const margin_v = Math.abs(voltsAt(volts, from) - voltsAt(volts, to) - emf_v);
        limits[angle] = Math.min(limits[angle] as number, isAcross ? 0 : bound(from, to, margin_v));
      }
    }
    // Half of it, well clear of rounding.
    const moving = limits.map((limit) => Math.min(limit, contacts) / 2);
    this.#moving[step] = moving;
    return moving;
  }

  /** Ohms between two nodes of one island, contacts and valves as they stand at the point. */
  ohmsBetween(point: OperatingPoint, tip: number, lead: number): number {
    const [first] = point.state.points;
    return first ? this.#network.ohmsBetween(first.system, tip, lead) : Number.NaN;
  }

  #unloaded() {
    this.#trail ??= this.#walk(null);
    return this.#trail;
  }

  /**
   * Most instruments change no contact: where every step with the load leads to the same next state as without,
   * the states need not be compared with those seen before again. Null where it does not.
   */
  #alongTrail(load: Load): OperatingPoint | null {
    const { states, point } = this.#unloaded();
    if (point.chatter || states.length === 0) return null;
    let last: State = point.state;
    for (let step = 0; step < states.length; step++) {
      const state = states[step] as State;
      const next = states[step + 1] ?? state;
      const sensed = new Float64Array(state.bits.length);
      const points: PhasePoint[] = [];
      for (let angle = 0; angle < state.points.length; angle++) {
        const { valves, system } = state.points[angle] as PhasePoint;
        const loaded = this.#solveAngle(state.bits, valves, angle, load, system);
        this.#sense(loaded.volts, loaded.joined, sensed);
        const nextValves = this.#nextValves(valves, loaded.volts, loaded.joined);
        if (!isSame(nextValves, next.points[angle]?.valves)) return null;
        points.push(loaded);
      }
      if (!isSame(this.#nextBits(state, sensed), next.bits)) return null;
      last = { bits: state.bits, points };
    }
    return this.#rest(last, load);
  }

  #walk(load: Load | null): { states: State[]; point: OperatingPoint } {
    const { bitCount, valveCount } = this.assembly.compiled;
    let bits: Uint8Array = new Uint8Array(bitCount);
    let valves: readonly Uint8Array[] = this.#network.angles.map(() => new Uint8Array(valveCount));
    const seen = new Map<string, number>();
    let states: State[] = [];
    let settles = false;
    for (let step = 0; step < MOST_STEPS; step++) {
      if (settles) {
        const settled = this.#settleAll(bits, valves, load);
        if (!settled) return { states, point: this.#chatter(states, 0, load) };
        valves = settled;
      }
      const state = this.#solve(bits, valves, load);
      states.push(state);
      const key = settles ? keyOf(bits) : keyOf(bits, ...valves);
      seen.set(key, states.length - 1);
      const nextBits = this.#updatedBits(state);
      const nextValves = settles
        ? valves
        : state.points.map((point) => this.#nextValves(point.valves, point.volts, point.joined));
      const next = settles ? keyOf(nextBits) : keyOf(nextBits, ...nextValves);
      // The trail of a settled walk cannot be followed by single steps.
      if (next === key) return { states: settles ? [] : states, point: this.#rest(state, load) };
      const before = seen.get(next);
      if (before !== undefined) {
        const isContactChatter = states.slice(before).some((other) => !isSame(other.bits, bits));
        if (settles || isContactChatter) return { states, point: this.#chatter(states, before, load) };
        // Only diodes went round. They have one operating point, which updating them together has missed:
        // from here on they are settled one after the other before the contacts look at their voltages.
        settles = true;
        seen.clear();
        states = [];
        continue;
      }
      bits = nextBits;
      valves = nextValves;
    }
    throw new Problem('bad-circuit', `The contacts do not come to rest within ${MOST_STEPS} steps.`, {
      id: this.assembly.compiled.circuit.id,
    });
  }

  #rest(state: State, load: Load | null): OperatingPoint {
    return { assembly: this.assembly, load, chatter: false, state, cycle: [], chattering: [] };
  }

  #chatter(states: readonly State[], from: number, load: Load | null): OperatingPoint {
    const cycle = states.slice(from);
    const state = states[states.length - 1] as State;
    const changing = new Set<string>();
    for (const [k, bit] of this.assembly.bits.entries()) {
      if (cycle.some((other) => other.bits[k] !== state.bits[k])) {
        changing.add(componentAt(this.assembly, bit.component).id);
      }
    }
    return { assembly: this.assembly, load, chatter: true, state, cycle, chattering: [...changing] };
  }

  #solve(bits: Uint8Array, valves: readonly Uint8Array[], load: Load | null): State {
    return { bits, points: valves.map((own, angle) => this.#solveAngle(bits, own, angle, load)) };
  }

  #solveAngle(
    bits: Uint8Array,
    valves: Uint8Array,
    angle: number,
    load: Load | null,
    system: System = this.#network.system(bits, valves),
  ): PhasePoint {
    const { island } = system.factor;
    const angle_rad = this.#network.angles[angle] ?? 0;
    if (!load) {
      const volts = this.#network.freeVolts(system, angle);
      return { angle_rad, valves, island, system, volts, joined: island, load_a: 0, loadFloats: false };
    }
    const volts = this.assembly.plan.nodeZeros.slice();
    const { load_a, loadFloats, joined } = this.#network.loadedVolts(system, angle, load, volts);
    return { angle_rad, valves, island, system, volts, joined, load_a, loadFloats };
  }

  /** Adds what each bit senses at one angle. */
  #sense(volts: readonly number[], joined: readonly number[], sensed: Float64Array): void {
    for (let k = 0; k < sensed.length; k++) {
      const bit = this.assembly.bits[k] as SensedBit;
      // Across islands there is no voltage to sense.
      if (islandAt(joined, bit.plus) !== islandAt(joined, bit.minus)) continue;
      const v = voltsAt(volts, bit.plus) - voltsAt(volts, bit.minus);
      sensed[k] = (sensed[k] as number) + (bit.isAbsolute ? Math.abs(v) : v);
    }
  }

  #updatedBits(state: State): Uint8Array {
    const sensed = new Float64Array(state.bits.length);
    for (const { volts, joined } of state.points) this.#sense(volts, joined, sensed);
    return this.#nextBits(state, sensed);
  }

  #nextBits(state: State, sensed: Float64Array): Uint8Array {
    const next = new Uint8Array(state.bits.length);
    for (let k = 0; k < next.length; k++) {
      const bit = this.assembly.bits[k] as SensedBit;
      if (!bit.canTurnOn) continue;
      const volts = (sensed[k] as number) / state.points.length;
      next[k] = volts >= (state.bits[k] === 1 ? bit.off_v : bit.on_v) ? 1 : 0;
    }
    return next;
  }

  #nextValves(valves: Uint8Array, volts: readonly number[], joined: readonly number[]): Uint8Array {
    if (valves.length === 0) return valves;
    const misplaced = misplacedValves(this.#network.valves, valves, volts, joined);
    if (misplaced.length === 0) return valves;
    const next = Uint8Array.from(valves);
    for (const valve of misplaced) next[valve] = next[valve] === 1 ? 0 : 1;
    return next;
  }

  #settleAll(bits: Uint8Array, valves: readonly Uint8Array[], load: Load | null): Uint8Array[] | null {
    const settled: Uint8Array[] = [];
    for (const [angle, start] of valves.entries()) {
      const own = this.#settle(bits, start, angle, load);
      if (!own) return null;
      settled.push(own);
    }
    return settled;
  }

  /**
   * Valves for frozen contacts, by least-index principal pivoting (Murty 1974): of all misplaced valves the one
   * with the greatest number switches. Null when it does not end, which needs a network of no physical sense.
   */
  #settle(bits: Uint8Array, start: Uint8Array, angle: number, load: Load | null): Uint8Array | null {
    const valves = Uint8Array.from(start);
    const most = 200 + 20 * this.#network.valves.length;
    for (let step = 0; step < most; step++) {
      const { volts, joined } = this.#solveAngle(bits, valves, angle, load);
      const misplaced = misplacedValves(this.#network.valves, valves, volts, joined);
      if (misplaced.length === 0) return valves;
      const within = this.#network.valves
        .filter((branch) => islandAt(joined, branch.from) === islandAt(joined, branch.to))
        .map(({ valve }) => valve)
        .filter((valve) => misplaced.includes(valve));
      // A loop across islands only makes sense as a whole.
      const switching = within.length > 0 ? [Math.max(...within)] : misplaced;
      for (const valve of switching) valves[valve] = valves[valve] === 1 ? 0 : 1;
    }
    return null;
  }
}

function between({ volts }: PhasePoint, { tip, lead }: Load): number {
  return voltsAt(volts, tip) - voltsAt(volts, lead);
}

/** Between islands the two ends were set equal: a meter shows exactly nothing. */
function voltsOfLoad(loaded: PhasePoint, load: Load): number {
  return loaded.loadFloats ? 0 : between(loaded, load);
}

function isWeak(at: PhasePoint, load: Load, limit_a: number): boolean {
  return (
    islandAt(at.island, load.tip) === islandAt(at.island, load.lead) &&
    Math.abs(between(at, load)) < limit_a * load.ohm
  );
}

function isSame(a: Uint8Array, b: Uint8Array | undefined): boolean {
  if (a === b) return true;
  if (!b || a.length !== b.length) return false;
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return true;
}
