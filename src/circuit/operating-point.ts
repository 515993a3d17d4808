/**
 * Finds the state in which every contact and every valve agrees with its own voltage. Contacts start released
 * and valves off; in each step the network is solved and all of them are updated together. A state seen before
 * means that it never comes to rest: chatter.
 */
import { Problem } from '../problem.ts';
import { type Assembly, componentAt } from './assemble.ts';
import type { Branch } from './compile-circuit.ts';
import { eliminate, type Factor, substitute } from './eliminate.ts';
import { misplacedValves } from './valve-step.ts';

/** Phase angles in a circuit with alternating sources: every 10°, half a step off the zero crossings. */
export const PHASE_POINTS = 36;
/** More steps than this without rest or repetition is given up (a circuit that counts, not one that starts). */
const MOST_STEPS = 5_000;

/** An instrument as a load: emf_v behind ohm, its current counted from tip to lead through the instrument. */
export interface Load {
  readonly tip: number;
  readonly lead: number;
  readonly ohm: number;
  readonly emf_v: number;
}

export interface PhasePoint {
  readonly angle_rad: number;
  readonly valves: Uint8Array;
  /** By node number, the load included. */
  readonly volts: Float64Array;
  /** Without the load: 0 is ground's island. */
  readonly island: Int32Array;
  /** Islands with the load connected. */
  readonly joined: Int32Array;
  readonly factor: Factor;
  readonly load_a: number;
  /** The load's ends are in islands that nothing else connects. */
  readonly loadFloats: boolean;
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

interface System {
  readonly factor: Factor;
  /** Injected currents of the constant sources. */
  readonly currents: Float64Array;
  readonly sines: readonly Branch[];
  readonly volts: (Float64Array | undefined)[];
  readonly unit: Map<number, Float64Array>;
}

/** Does the branch carry current in this state? */
export function conducts(branch: Branch, bits: Uint8Array, valves: Uint8Array): boolean {
  if (branch.siemens === 0) return false;
  if (branch.valve >= 0 && valves[branch.valve] !== 1) return false;
  for (const gate of branch.gates) if (bits[gate.bit] !== gate.is) return false;
  return true;
}

/** Solves one assembly again and again: factors are kept by state, an instrument is added to them as a rank-one change. */
export class PointFinder {
  readonly assembly: Assembly;
  readonly #systems = new Map<string, System>();
  readonly #valves: readonly Branch[];
  readonly #angles: readonly number[];

  constructor(assembly: Assembly) {
    this.assembly = assembly;
    this.#valves = assembly.branches.filter((branch) => branch.valve >= 0 && branch.siemens > 0);
    this.#angles = assembly.branches.some((branch) => branch.peak_v > 0)
      ? Array.from({ length: PHASE_POINTS }, (_, k) => (2 * Math.PI * (k + 0.5)) / PHASE_POINTS)
      : [0];
  }

  find(load: Load | null): OperatingPoint {
    const { bitCount, valveCount } = this.assembly.compiled;
    let bits = new Uint8Array(bitCount);
    let valves = this.#angles.map(() => new Uint8Array(valveCount));
    const seen = new Map<string, number>();
    const history: State[] = [];
    let settles = false;
    for (let step = 0; step < MOST_STEPS; step++) {
      if (settles) {
        const settled = valves.map((own, k) => this.#settleValves(bits, own, k, load));
        if (settled.some((own) => own === null)) return this.#chatter(history, 0, load);
        valves = settled as Uint8Array<ArrayBuffer>[];
      }
      const state = this.#solve(bits, valves, load);
      history.push(state);
      const key = settles ? keyOf(bits) : keyOf(bits, ...valves);
      seen.set(key, history.length - 1);
      const nextBits = this.#nextBits(state);
      const nextValves = settles ? valves : state.points.map((point) => this.#nextValves(point));
      const next = settles ? keyOf(nextBits) : keyOf(nextBits, ...nextValves);
      if (next === key) return this.#rest(state, load);
      const before = seen.get(next);
      if (before !== undefined) {
        const isContactChatter = history.slice(before).some((other) => !sameBits(other.bits, bits));
        if (settles || isContactChatter) return this.#chatter(history, before, load);
        // Only diodes went round. They have one operating point, which updating them together has missed:
        // from here on they are settled one after the other before the contacts look at their voltages.
        settles = true;
        seen.clear();
        history.length = 0;
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

  #chatter(history: readonly State[], from: number, load: Load | null): OperatingPoint {
    const cycle = history.slice(from);
    const state = history[history.length - 1] as State;
    const changing = new Set<string>();
    for (const [k, bit] of this.assembly.bits.entries()) {
      if (cycle.some((other) => other.bits[k] !== state.bits[k])) {
        changing.add(componentAt(this.assembly, bit.component).id);
      }
    }
    return { assembly: this.assembly, load, chatter: true, state, cycle, chattering: [...changing] };
  }

  #nextBits(state: State): Uint8Array<ArrayBuffer> {
    const next = new Uint8Array(state.bits.length);
    for (const [k, bit] of this.assembly.bits.entries()) {
      if (!bit.canTurnOn) continue;
      let sum = 0;
      for (const { volts, island } of state.points) {
        // Across islands there is no voltage to sense.
        if (islandAt(island, bit.plus) !== islandAt(island, bit.minus)) continue;
        const v = voltsAt(volts, bit.plus) - voltsAt(volts, bit.minus);
        sum += bit.isAbsolute ? Math.abs(v) : v;
      }
      const sensed = sum / state.points.length;
      next[k] = sensed >= (state.bits[k] === 1 ? bit.off_v : bit.on_v) ? 1 : 0;
    }
    return next;
  }

  #nextValves(point: PhasePoint): Uint8Array<ArrayBuffer> {
    const next = Uint8Array.from(point.valves);
    for (const valve of misplacedValves(this.#valves, point.valves, point.volts, point.joined)) {
      next[valve] = next[valve] === 1 ? 0 : 1;
    }
    return next;
  }

  /**
   * Valves for frozen contacts, by least-index principal pivoting (Murty 1974): of all misplaced valves the one
   * with the greatest number switches. Null when it does not end, which needs a network of no physical sense.
   */
  #settleValves(bits: Uint8Array, start: Uint8Array, angle: number, load: Load | null) {
    const valves = Uint8Array.from(start);
    const most = 200 + 20 * this.#valves.length;
    for (let step = 0; step < most; step++) {
      const point = this.#solveAngle(bits, valves, angle, load);
      const misplaced = misplacedValves(this.#valves, valves, point.volts, point.joined);
      if (misplaced.length === 0) return valves;
      const own = misplaced.filter((valve) => this.#isWithinIsland(valve, point));
      // A loop across islands only makes sense as a whole.
      const switching = own.length > 0 ? [Math.max(...own)] : misplaced;
      for (const valve of switching) valves[valve] = valves[valve] === 1 ? 0 : 1;
    }
    return null;
  }

  #isWithinIsland(valve: number, point: PhasePoint): boolean {
    const branch = this.#valves.find((other) => other.valve === valve);
    const island = point.joined;
    return branch !== undefined && islandAt(island, branch.from) === islandAt(island, branch.to);
  }

  #solve(bits: Uint8Array, valves: readonly Uint8Array[], load: Load | null): State {
    return { bits, points: valves.map((own, k) => this.#solveAngle(bits, own, k, load)) };
  }

  #solveAngle(bits: Uint8Array, valves: Uint8Array, angle: number, load: Load | null): PhasePoint {
    const system = this.#system(bits, valves);
    const free = this.#freeVolts(system, angle);
    const { factor } = system;
    const base = {
      angle_rad: this.#angles[angle] ?? 0,
      valves,
      factor,
      island: factor.island,
      joined: factor.island,
    };
    if (!load) return { ...base, volts: free, load_a: 0, loadFloats: false };
    const between = voltsAt(free, load.tip) - voltsAt(free, load.lead) - load.emf_v;
    const [tipIsland, leadIsland] = [islandAt(factor.island, load.tip), islandAt(factor.island, load.lead)];
    if (tipIsland !== leadIsland) {
      // The only link between two islands carries nothing; it only sets one of them against the other.
      const moved = tipIsland === 0 ? leadIsland : tipIsland;
      const step = tipIsland === 0 ? between : -between;
      const volts = free.map((v, k) => (factor.island[k] === moved ? v + step : v));
      const kept = moved === tipIsland ? leadIsland : tipIsland;
      const joined = factor.island.map((own) => (own === moved ? kept : own));
      return { ...base, volts, joined, load_a: 0, loadFloats: true };
    }
    const unit = this.#unitVolts(system, load.tip, load.lead);
    const load_a = between / (load.ohm + voltsAt(unit, load.tip) - voltsAt(unit, load.lead));
    const volts = new Float64Array(free.length);
    for (let k = 0; k < volts.length; k++) volts[k] = (free[k] as number) - (unit[k] as number) * load_a;
    return { ...base, volts, load_a, loadFloats: false };
  }

  #system(bits: Uint8Array, valves: Uint8Array): System {
    const key = keyOf(bits, valves);
    const known = this.#systems.get(key);
    if (known) return known;
    const { plan, branches } = this.assembly;
    const between = new Float64Array(plan.neighbor.length);
    const toGround = new Float64Array(plan.size);
    const currents = new Float64Array(plan.size);
    const sines: Branch[] = [];
    for (const branch of branches) {
      if (!conducts(branch, bits, valves)) continue;
      const { from, to, siemens, drive_v, entry } = branch;
      if (entry >= 0) between[entry] = (between[entry] as number) + siemens;
      else if (from >= 0 && to < 0) toGround[from] = (toGround[from] as number) + siemens;
      else if (to >= 0 && from < 0) toGround[to] = (toGround[to] as number) + siemens;
      if (drive_v !== 0) inject(currents, from, to, siemens * drive_v);
      if (branch.peak_v !== 0) sines.push(branch);
    }
    const system: System = {
      factor: eliminate(plan, between, toGround),
      currents,
      sines,
      volts: [],
      unit: new Map(),
    };
    this.#systems.set(key, system);
    return system;
  }

  /** Node volts without the load. */
  #freeVolts(system: System, angle: number): Float64Array {
    const known = system.volts[angle];
    if (known) return known;
    const { nodeNames, shift_v } = this.assembly.compiled;
    const currents = Float64Array.from(system.currents);
    for (const { from, to, siemens, peak_v, phase_rad } of system.sines) {
      inject(currents, from, to, siemens * peak_v * Math.sin((this.#angles[angle] ?? 0) + phase_rad));
    }
    const volts = substitute(system.factor, currents, new Float64Array(currents.length));
    for (let k = 0; k < volts.length; k++) {
      volts[k] = (volts[k] as number) + (shift_v[k] as number);
      if (!Number.isFinite(volts[k])) {
        throw new Problem(
          'bad-circuit',
          `The equations have no finite solution at node ${nodeNames[k]}; check the resistances around it.`,
          { id: nodeNames[k] },
        );
      }
    }
    system.volts[angle] = volts;
    return volts;
  }

  /** Node volts of a unit current into `tip` and out of `lead`: all the network shows an instrument. */
  #unitVolts(system: System, tip: number, lead: number): Float64Array {
    const key = (tip + 1) * (this.assembly.plan.size + 1) + lead + 1;
    const known = system.unit.get(key);
    if (known) return known;
    const currents = new Float64Array(this.assembly.plan.size);
    inject(currents, tip, lead, 1);
    const unit = substitute(system.factor, currents, new Float64Array(currents.length));
    system.unit.set(key, unit);
    return unit;
  }

  /** Ohms between two nodes of one island with every source at rest, in a given state. */
  ohmsBetween(point: OperatingPoint, tip: number, lead: number): number {
    const { bits, points } = point.state;
    const unit = this.#unitVolts(this.#system(bits, (points[0] as PhasePoint).valves), tip, lead);
    return voltsAt(unit, tip) - voltsAt(unit, lead);
  }
}

function inject(currents: Float64Array, into: number, outOf: number, amps: number): void {
  if (into >= 0) currents[into] = (currents[into] as number) + amps;
  if (outOf >= 0) currents[outOf] = (currents[outOf] as number) - amps;
}

export function voltsAt(volts: Float64Array, node: number): number {
  return node < 0 ? 0 : (volts[node] as number);
}

export function islandAt(island: Int32Array, node: number): number {
  return node < 0 ? 0 : (island[node] as number);
}

function sameBits(a: Uint8Array, b: Uint8Array): boolean {
  return a.every((bit, k) => bit === b[k]);
}

/** States as text: sixteen of them to a character. */
function keyOf(...parts: readonly Uint8Array[]): string {
  let key = '';
  let word = 1;
  for (const part of parts) {
    for (const bit of part) {
      word = word * 2 + bit;
      if (word >= 0x4000) {
        key += String.fromCharCode(word);
        word = 1;
      }
    }
  }
  return key + String.fromCharCode(word);
}
