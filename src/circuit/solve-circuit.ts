import { type Assembly, assemble, type Bench, componentAt, NO_COMPONENT } from './assemble.ts';
import type { Circuit } from './circuit-form.ts';
import { compileCircuit } from './compile-circuit.ts';
import { connect, type Instrument, loadOf, type Reading, readInstrument } from './instruments.ts';
import { conducts } from './network.ts';
import { type OperatingPoint, PointFinder } from './operating-point.ts';
import { ampsAt, branchAmps, mean, rootMeanSquare } from './seen-values.ts';

export interface SolveOptions extends Bench {
  readonly instrument?: Instrument;
}

export interface Overload {
  readonly component: string;
  readonly amps: number;
  readonly rating_a: number;
}

export interface CircuitSolution {
  /** Volts above ground; null where the node floats. With alternating sources the mean. Null as a whole with chatter. */
  readonly nodes: Readonly<Record<string, number | null>> | null;
  readonly chatter: boolean;
  /** Components whose contact chatters. */
  readonly chattering: readonly string[];
  /** Greatest leftover current at any node, in amperes: what rounding has left. */
  readonly imbalance_a: number;
  readonly overloads: readonly Overload[];
  /** Present with an instrument; null with chatter. */
  readonly reading?: Reading | null;
  /** Mean amperes of each way of each component, first end to second; null with chatter. */
  readonly currents: Readonly<Record<string, Readonly<Record<string, number>>>> | null;
  /** Contacts that are on, as component.bit: true or false; null with chatter. */
  readonly contacts: Readonly<Record<string, boolean>> | null;
  /** Nodes that float, in groups that hang together; empty with chatter. */
  readonly floating: readonly (readonly string[])[];
  /** Diodes (component.way) that conduct at least at one phase angle; empty with chatter. */
  readonly conducting: readonly string[];
}

/**
 * Solves a circuit that readCircuit has accepted, as it stands on the bench, with an optional instrument as a
 * real load. Volts, amperes, ohms; signs as in METHOD.md. Neither argument is changed.
 *
 * Throws Problem `bad-circuit` for faults, controls, plugs or components the circuit lacks, `bad-probe` for an
 * instrument or bridge that cannot or must not be put there. Self-hold, chatter, floating nodes and overloads
 * are results.
 */
export function solveCircuit(circuit: Circuit, options: SolveOptions = {}): CircuitSolution {
  const assembly = assemble(compileCircuit(circuit), options);
  const finder = new PointFinder(assembly);
  const connected = options.instrument ? connect(assembly, options.instrument) : undefined;
  const point = finder.find(connected ? loadOf(connected) : null);
  const imbalance_a = imbalanceOf(point);
  const common = { chatter: point.chatter, chattering: point.chattering, imbalance_a };
  if (point.chatter) {
    return {
      ...common,
      nodes: null,
      overloads: [],
      reading: null,
      currents: null,
      contacts: null,
      floating: [],
      conducting: [],
    };
  }
  return {
    ...common,
    ...nodesOf(point),
    overloads: overloadsOf(point),
    ...(connected ? { reading: readInstrument(finder, connected) } : {}),
    currents: currentsOf(point),
    contacts: contactsOf(point),
    conducting: conductingOf(point),
  };
}

function nodesOf(point: OperatingPoint): Pick<CircuitSolution, 'nodes' | 'floating'> {
  const { circuit, nodeNames, innerNodes } = point.assembly.compiled;
  const nodes: Record<string, number | null> = { [circuit.ground]: 0 };
  const groups = new Map<number, string[]>();
  for (const [k, name] of nodeNames.entries()) {
    if (innerNodes.has(k)) continue;
    const afloat = point.state.points.find(({ island }) => island[k] !== 0);
    nodes[name] = afloat ? null : mean(point.state.points.map(({ volts }) => volts[k] as number));
    if (!afloat) continue;
    const island = afloat.island[k] as number;
    groups.set(island, [...(groups.get(island) ?? []), name]);
  }
  return { nodes, floating: [...groups.values()] };
}

/** Kirchhoff's current law, checked branch by branch and not through the matrix that was solved. */
function imbalanceOf(point: OperatingPoint): number {
  const { plan, branches } = point.assembly;
  let worst = 0;
  for (const { volts, valves, angle_rad, load_a } of point.state.points) {
    const left = plan.nodeZeros.slice();
    const flow = (from: number, to: number, amps: number) => {
      if (from >= 0) left[from] = (left[from] as number) + amps;
      if (to >= 0) left[to] = (left[to] as number) - amps;
    };
    for (const branch of branches) {
      if (!conducts(branch, point.state.bits, valves)) continue;
      flow(branch.from, branch.to, ampsAt(volts, branch, angle_rad));
    }
    if (point.load) flow(point.load.tip, point.load.lead, load_a);
    for (const amps of left) worst = Math.max(worst, Math.abs(amps));
  }
  return worst;
}

function overloadsOf(point: OperatingPoint): Overload[] {
  const overloads: Overload[] = [];
  for (const branch of ownBranches(point.assembly)) {
    const component = componentAt(point.assembly, branch.component);
    const { rating_a } = component;
    if (typeof rating_a !== 'number') continue;
    const amps = rootMeanSquare(branchAmps(point, branch));
    if (amps > rating_a) overloads.push({ component: component.id, amps, rating_a });
  }
  return overloads;
}

function currentsOf(point: OperatingPoint): Record<string, Record<string, number>> {
  const currents: Record<string, Record<string, number>> = {};
  for (const branch of ownBranches(point.assembly)) {
    const { id } = componentAt(point.assembly, branch.component);
    currents[id] ??= {};
    const own = currents[id];
    own[branch.path] = mean(branchAmps(point, branch));
  }
  return currents;
}

function contactsOf(point: OperatingPoint): Record<string, boolean> {
  return Object.fromEntries(
    point.assembly.bits.map((bit, k) => [
      `${componentAt(point.assembly, bit.component).id}.${bit.name}`,
      point.state.bits[k] === 1,
    ]),
  );
}

function conductingOf(point: OperatingPoint): string[] {
  return ownBranches(point.assembly)
    .filter((b) => b.valve >= 0 && point.state.points.some(({ valves }) => valves[b.valve] === 1))
    .map((b) => `${componentAt(point.assembly, b.component).id}.${b.path}`);
}

function ownBranches(assembly: Assembly) {
  return assembly.branches.filter((branch) => branch.component !== NO_COMPONENT);
}
