/** The network of one assembly in every state of its contacts and valves: factored once a state, solved once an angle. */
import { Problem } from '../problem.ts';
import type { Assembly } from './assemble.ts';
import type { Branch } from './compile-circuit.ts';
import { eliminate, type Factor, resistanceBetween, substitute } from './eliminate.ts';

/** Phase angles in a circuit with alternating sources: every 10°, half a step off the zero crossings. */
export const PHASE_POINTS = 36;

/** An instrument as a load: emf_v behind ohm, its current counted from tip to lead through the instrument. */
export interface Load {
  readonly tip: number;
  readonly lead: number;
  readonly ohm: number;
  readonly emf_v: number;
}

/** What a load does to a solved network; its volts are in the array that was handed over. */
export interface Loaded {
  readonly load_a: number;
  /** The load's ends are in islands that nothing else connects. */
  readonly loadFloats: boolean;
  /** Islands with the load connected. */
  readonly joined: readonly number[];
}

/** The network in one state. */
export interface System {
  readonly factor: Factor;
  /** Injected currents of the constant sources. */
  readonly currents: readonly number[];
  readonly sines: readonly Branch[];
  /** By angle, without a load. */
  readonly volts: (readonly number[] | undefined)[];
}

/** Does the branch carry current in this state? */
export function conducts(branch: Branch, bits: Uint8Array, valves: Uint8Array): boolean {
  if (branch.siemens === 0) return false;
  if (branch.valve >= 0 && valves[branch.valve] !== 1) return false;
  for (const gate of branch.gates) if (bits[gate.bit] !== gate.is) return false;
  return true;
}

export class Network {
  readonly assembly: Assembly;
  /** Valves that are not gone. */
  readonly valves: readonly Branch[];
  /** One angle, 0, without alternating sources. */
  readonly angles: readonly number[];
  readonly #systems = new Map<string, System>();
  // Scratch for the unit current of a load: a table asks for thousands of them.
  readonly #currents: number[];
  readonly #unit: number[];
  readonly #nothing: number[];

  constructor(assembly: Assembly) {
    this.assembly = assembly;
    this.valves = assembly.branches.filter((branch) => branch.valve >= 0 && branch.siemens > 0);
    this.angles = assembly.branches.some((branch) => branch.peak_v > 0)
      ? Array.from({ length: PHASE_POINTS }, (_, k) => (2 * Math.PI * (k + 0.5)) / PHASE_POINTS)
      : [0];
    this.#currents = assembly.plan.nodeZeros.slice();
    this.#unit = assembly.plan.nodeZeros.slice();
    this.#nothing = assembly.plan.nodeZeros.slice();
  }

  system(bits: Uint8Array, valves: Uint8Array): System {
    const key = keyOf(bits, valves);
    const known = this.#systems.get(key);
    if (known) return known;
    const { plan, branches } = this.assembly;
    const between = plan.entryZeros.slice();
    const toGround = plan.nodeZeros.slice();
    const currents = plan.nodeZeros.slice();
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
    const system: System = { factor: eliminate(plan, between, toGround), currents, sines, volts: [] };
    this.#systems.set(key, system);
    return system;
  }

  /** Node volts without a load. Throws Problem `bad-circuit` naming the node when there is no finite solution. */
  freeVolts(system: System, angle: number): readonly number[] {
    const known = system.volts[angle];
    if (known) return known;
    const { nodeNames, shift_v } = this.assembly.compiled;
    const currents = system.currents.slice();
    for (const { from, to, siemens, peak_v, phase_rad } of system.sines) {
      inject(currents, from, to, siemens * peak_v * Math.sin((this.angles[angle] ?? 0) + phase_rad));
    }
    const volts = substitute(system.factor, currents, this.assembly.plan.nodeZeros.slice());
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

  /**
   * Puts the volts with a load connected into `volts`. The load is a rank-one change of the network: the
   * voltage between its ends drives it through its own resistance and the one the network shows there.
   */
  loadedVolts(system: System, angle: number, load: Load, volts: number[]): Loaded {
    const free = this.freeVolts(system, angle);
    const { island } = system.factor;
    const between = voltsAt(free, load.tip) - voltsAt(free, load.lead) - load.emf_v;
    const [tipIsland, leadIsland] = [islandAt(island, load.tip), islandAt(island, load.lead)];
    if (tipIsland !== leadIsland) {
      // The only link between two islands carries nothing; it only sets one of them against the other.
      const moved = tipIsland === 0 ? leadIsland : tipIsland;
      const kept = moved === tipIsland ? leadIsland : tipIsland;
      const step = tipIsland === 0 ? between : -between;
      for (let k = 0; k < volts.length; k++) {
        volts[k] = (free[k] as number) + (island[k] === moved ? step : 0);
      }
      return { load_a: 0, loadFloats: true, joined: island.map((own) => (own === moved ? kept : own)) };
    }
    const unit = this.#unitVolts(system, load.tip, load.lead);
    const load_a = between / (load.ohm + voltsAt(unit, load.tip) - voltsAt(unit, load.lead));
    for (let k = 0; k < volts.length; k++) volts[k] = (free[k] as number) - (unit[k] as number) * load_a;
    return { load_a, loadFloats: false, joined: island };
  }

  /** Ohms between two nodes of one island with every source at rest. */
  ohmsBetween(system: System, tip: number, lead: number): number {
    return resistanceBetween(system.factor, tip, lead, this.#nothing);
  }

  /** Node volts of a unit current into `tip` and out of `lead`; valid until the next call. */
  #unitVolts(system: System, tip: number, lead: number): number[] {
    this.#currents.fill(0);
    inject(this.#currents, tip, lead, 1);
    return substitute(system.factor, this.#currents, this.#unit);
  }
}

function inject(currents: number[], into: number, outOf: number, amps: number): void {
  if (into >= 0) currents[into] = (currents[into] as number) + amps;
  if (outOf >= 0) currents[outOf] = (currents[outOf] as number) - amps;
}

export function voltsAt(volts: readonly number[], node: number): number {
  return node < 0 ? 0 : (volts[node] as number);
}

export function islandAt(island: readonly number[], node: number): number {
  return node < 0 ? 0 : (island[node] as number);
}

/** States as text, fourteen of them to a character. */
export function keyOf(...parts: readonly Uint8Array[]): string {
  let key = '';
  let word = 1;
  for (const part of parts) {
    for (let k = 0; k < part.length; k++) {
      word = word * 2 + (part[k] as number);
      if (word >= 0x4000) {
        key += String.fromCharCode(word);
        word = 1;
      }
    }
  }
  return key + String.fromCharCode(word);
}
