import { Problem, quoted } from '../problem.ts';
import type { Component } from './circuit-form.ts';
import type { Branch, CompiledCircuit, SensedBit, SlottedFault } from './compile-circuit.ts';
import type { EliminationPlan } from './eliminate.ts';
import { type Fault, parseFaults } from './faults.ts';

/** A jumper lead between two points, in ohms (a short lead of 1.5 mm² with two clips; common practice, no source). */
export const BRIDGE_OHM = 0.01;

/** How the machine stands on the bench. */
export interface Bench {
  readonly faults?: readonly Fault[];
  /** Positions by control; the others are at rest. */
  readonly controls?: Readonly<Record<string, string>>;
  /** Plugs that are parted: their parts leave the circuit. */
  readonly unplugged?: readonly string[];
  /** Components that are taken out. */
  readonly removed?: readonly string[];
  /** Two points joined by a jumper lead of 0.01 Ω. */
  readonly bridge?: readonly [string, string];
}

export interface Assembly {
  readonly compiled: CompiledCircuit;
  readonly plan: EliminationPlan;
  /** The circuit's own branches in fixed order, then those of faults, then the bridge. */
  readonly branches: readonly Branch[];
  readonly bits: readonly SensedBit[];
  readonly faults: ReadonlyMap<number, readonly SlottedFault[]>;
  readonly removed: ReadonlySet<number>;
  readonly unplugged: ReadonlySet<number>;
  position(control: string): string;
}

/** Component number of branches that belong to no component. */
export const NO_COMPONENT = -1;

/** A bench whose names have been looked up once, to be combined with many faults. */
export interface Stance {
  readonly positions: ReadonlyMap<string, string>;
  readonly removed: ReadonlySet<number>;
  readonly unplugged: ReadonlySet<number>;
  readonly bridge: Branch | null;
}

/**
 * Looks up everything but the faults. Throws Problem `bad-circuit` for an unknown component, control, position
 * or plug, `bad-probe` for a bridge that must not be made.
 */
export function takeStance(compiled: CompiledCircuit, bench: Omit<Bench, 'faults'>): Stance {
  return {
    positions: checkedPositions(compiled, bench.controls ?? {}),
    removed: new Set((bench.removed ?? []).map((id) => componentNumber(compiled, id, 'removed'))),
    unplugged: new Set((bench.unplugged ?? []).flatMap((name) => plugParts(compiled, name))),
    bridge: bench.bridge ? bridgeBranch(compiled, bench.bridge) : null,
  };
}

/** takeStance and the faults in one; throws as takeStance does, and Problem `bad-circuit` for a bad fault. */
export function assemble(compiled: CompiledCircuit, bench: Bench): Assembly {
  return assembleStance(compiled, takeStance(compiled, bench), parseFaults(compiled, bench.faults ?? []));
}

/** Puts faults, control positions, parted plugs, removed parts and a bridge into a compiled circuit. */
export function assembleStance(
  compiled: CompiledCircuit,
  stance: Stance,
  faults: ReadonlyMap<number, readonly SlottedFault[]>,
): Assembly {
  const { positions, removed, unplugged, bridge } = stance;
  const position = (control: string) =>
    positions.get(control) ?? compiled.circuit.controls[control]?.rest ?? '';
  const variants = [...compiled.atRest];
  for (const control of positions.keys()) {
    for (const index of compiled.followers.get(control) ?? []) {
      variants[index] = compiled.variant(index, faults.get(index) ?? [], position);
    }
  }
  for (const [index, own] of faults) variants[index] = compiled.variant(index, own, position);
  for (const index of removed) variants[index] = compiled.goneVariant(index);
  for (const index of unplugged) variants[index] = compiled.goneVariant(index);

  const branches: Branch[] = [];
  const bits: SensedBit[] = [];
  const extra: Branch[] = bridge ? [bridge] : [];
  for (const own of variants) {
    for (const branch of own.branches) branches.push(branch);
    for (const bit of own.bits) bits.push(bit);
    for (const branch of own.extra) extra.push(branch);
  }
  const common = { compiled, bits, faults, removed, unplugged, position };
  if (extra.length === 0) return { ...common, plan: compiled.plan, branches };
  const plan = compiled.planWith(extra.map(({ from, to }) => [from, to] as const));
  // An extended plan has its entries elsewhere.
  return {
    ...common,
    plan,
    branches: [...branches, ...extra].map((b) => ({ ...b, entry: plan.entryOf(b.from, b.to) })),
  };
}

function plugParts(compiled: CompiledCircuit, name: string): number[] {
  const { plugs } = compiled.circuit;
  const plug = Object.hasOwn(plugs, name) ? plugs[name] : undefined;
  if (!plug) {
    const known = Object.keys(plugs).join(', ') || 'none';
    throw new Problem('bad-circuit', `There is no plug ${quoted(name)} in this circuit; it has ${known}.`, {
      field: 'unplugged',
      id: name,
    });
  }
  return plug.parts.map((id) => componentNumber(compiled, id, 'unplugged'));
}

function componentNumber(compiled: CompiledCircuit, id: string, field: string): number {
  const index = compiled.componentIndex.get(id);
  if (index === undefined) {
    throw new Problem('bad-circuit', `There is no component ${quoted(id)} in this circuit.`, { field, id });
  }
  return index;
}

function checkedPositions(
  compiled: CompiledCircuit,
  controls: Readonly<Record<string, string>>,
): Map<string, string> {
  const positions = new Map<string, string>();
  for (const [name, position] of Object.entries(controls)) {
    const control = Object.hasOwn(compiled.circuit.controls, name)
      ? compiled.circuit.controls[name]
      : undefined;
    if (!control) {
      const known = Object.keys(compiled.circuit.controls).join(', ') || 'none';
      throw new Problem(
        'bad-circuit',
        `There is no control ${quoted(name)} in this circuit; it has ${known}.`,
        {
          field: `controls.${name}`,
          id: name,
        },
      );
    }
    if (!control.positions.includes(position)) {
      throw new Problem(
        'bad-circuit',
        `Control ${quoted(name)} has no position ${quoted(position)}; it has ${control.positions.join(', ')}.`,
        { field: `controls.${name}`, id: name },
      );
    }
    if (position !== control.rest) positions.set(name, position);
  }
  return positions;
}

/** Number of a point or node; ground is -1. Throws Problem `bad-probe` when there is none of that name. */
export function probeNode(compiled: CompiledCircuit, name: string, field: string): number {
  const point = Object.hasOwn(compiled.circuit.points, name) ? compiled.circuit.points[name] : undefined;
  const node = compiled.nodeIndex.get(point ? point.node : name);
  if (node === undefined || (node >= 0 && compiled.innerNodes.has(node))) {
    throw new Problem('bad-probe', `There is no point or node ${quoted(name)} in this circuit.`, {
      field,
      id: name,
    });
  }
  return node;
}

/** The point or node that marks this place as electronic, if one does. */
export function electronicMark(compiled: CompiledCircuit, node: number): string | undefined {
  const { points, nodes } = compiled.circuit;
  const point = Object.entries(points).find(
    ([, p]) => p.electronic === true && compiled.nodeIndex.get(p.node) === node,
  );
  if (point) return point[0];
  return Object.entries(nodes).find(
    ([name, mark]) => mark.electronic === true && compiled.nodeIndex.get(name) === node,
  )?.[0];
}

function bridgeBranch(compiled: CompiledCircuit, [first, second]: readonly [string, string]): Branch {
  const ends = [first, second].map((name) => probeNode(compiled, name, 'bridge'));
  const [from, to] = ends as [number, number];
  for (const [k, node] of ends.entries()) {
    const mark = electronicMark(compiled, node);
    if (mark !== undefined) {
      throw new Problem(
        'bad-probe',
        `No bridge at ${quoted(k === 0 ? first : second)}: ${quoted(mark)} is an electronic line, and a jumper would feed it what it cannot bear.`,
        { field: 'bridge', id: mark },
      );
    }
  }
  if (from === to) {
    throw new Problem('bad-probe', `The bridge has both ends on the same node, ${quoted(first)}.`, {
      field: 'bridge',
      id: first,
    });
  }
  const shift = (node: number) => (node < 0 ? 0 : (compiled.shift_v[node] as number));
  return {
    component: NO_COMPONENT,
    path: 'bridge',
    from,
    to,
    siemens: 1 / BRIDGE_OHM,
    ohm: BRIDGE_OHM,
    emf_v: 0,
    drive_v: shift(to) - shift(from),
    peak_v: 0,
    phase_rad: 0,
    isSource: false,
    valve: -1,
    gates: [],
    entry: -1,
  };
}

export function componentAt(assembly: Assembly, index: number): Component {
  return assembly.compiled.circuit.components[index] as Component;
}
