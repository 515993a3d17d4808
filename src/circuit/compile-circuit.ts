import type { Circuit, Component } from './circuit-form.ts';
import { type EliminationPlan, minimumDegreeOrder, planElimination } from './eliminate.ts';
import type { AppliedFault, Bit, ComponentKind, Term, Terms } from './kind.ts';
import { kindOf } from './kinds/index.ts';

/** A term with its nodes numbered in elimination order; ground is -1. */
export interface Branch {
  readonly component: number;
  readonly path: string;
  readonly from: number;
  readonly to: number;
  /** Conductance in siemens; 0: gone. */
  readonly siemens: number;
  readonly ohm: number;
  readonly emf_v: number;
  /** emf_v less the difference of the node shifts: what is left to drive a current (see nodeShifts). */
  readonly drive_v: number;
  readonly peak_v: number;
  readonly phase_rad: number;
  readonly isSource: boolean;
  /** Number of the valve among all valves, or -1. */
  readonly valve: number;
  readonly gates: readonly { readonly bit: number; readonly is: 0 | 1 }[];
  readonly entry: number;
}

export interface SensedBit {
  readonly component: number;
  readonly name: string;
  readonly plus: number;
  readonly minus: number;
  readonly on_v: number;
  readonly off_v: number;
  readonly isAbsolute: boolean;
  readonly canTurnOn: boolean;
}

/** A component under certain faults and control positions. Every variant has as many branches, valves and bits as at rest. */
export interface Variant {
  readonly branches: readonly Branch[];
  readonly extra: readonly Branch[];
  readonly bits: readonly SensedBit[];
}

export interface CompiledCircuit {
  readonly circuit: Circuit;
  readonly kinds: readonly ComponentKind[];
  readonly componentIndex: ReadonlyMap<string, number>;
  /** Names in elimination order; the ground is not among them. */
  readonly nodeNames: readonly string[];
  /** Number of a node, -1 for ground. */
  readonly nodeIndex: ReadonlyMap<string, number>;
  /** Nodes inside components, which no probe reaches and no result shows. */
  readonly innerNodes: ReadonlySet<number>;
  readonly shift_v: Float64Array;
  readonly plan: EliminationPlan;
  planWith(pairs: readonly (readonly [number, number])[]): EliminationPlan;
  /** Where each component's branches and bits start. */
  readonly branchStart: readonly number[];
  readonly bitStart: readonly number[];
  readonly valveCount: number;
  readonly bitCount: number;
  readonly atRest: readonly Variant[];
  readonly followers: ReadonlyMap<string, readonly number[]>;
  variant(component: number, faults: readonly SlottedFault[], position: (control: string) => string): Variant;
  goneVariant(component: number): Variant;
}

export interface SlottedFault extends AppliedFault {
  readonly slot: string;
}

const MOST_KEPT = 256;
const NO_FAULTS: readonly SlottedFault[] = [];
const compiled = new WeakMap<Circuit, CompiledCircuit>();

/** Compiles a circuit once; the result is kept as long as the (frozen) circuit object lives. */
export function compileCircuit(circuit: Circuit): CompiledCircuit {
  const known = compiled.get(circuit);
  if (known) return known;
  const made = compile(circuit);
  // Only what cannot change may be remembered by identity.
  if (Object.isFrozen(circuit)) compiled.set(circuit, made);
  return made;
}

function compile(circuit: Circuit): CompiledCircuit {
  const kinds = circuit.components.map((component) => kindOf(component.kind));
  const restTerms = circuit.components.map((component, index) =>
    termsOf(circuit, component, kinds[index] as ComponentKind, NO_FAULTS, (control) =>
      restOf(circuit, control),
    ),
  );
  const { nodeNames, nodeIndex, innerNodes, pairs } = numberNodes(circuit, kinds, restTerms);
  const plan = planElimination(nodeNames.length, pairs);
  const shift_v = nodeShifts(nodeNames.length, restTerms, nodeIndex);

  const branchStart: number[] = [];
  const bitStart: number[] = [];
  const valveStart: number[] = [];
  const counts = { branches: 0, bits: 0, valves: 0 };
  for (const terms of restTerms) {
    branchStart.push(counts.branches);
    bitStart.push(counts.bits);
    valveStart.push(counts.valves);
    counts.branches += terms.branches.length;
    counts.bits += terms.bits?.length ?? 0;
    counts.valves += terms.branches.filter((term) => term.isValve).length;
  }

  const numbered = (index: number, terms: Terms): Variant => {
    const rest = restTerms[index] as Terms;
    let valve = valveStart[index] as number;
    const valveOf = rest.branches.map((term) => (term.isValve ? valve++ : -1));
    const bitNumber = new Map(
      (terms.bits ?? []).map((bit, k) => [bit.name, (bitStart[index] as number) + k]),
    );
    const branch = (term: Term, valveNumber: number) =>
      numberBranch(term, index, valveNumber, bitNumber, nodeIndex, shift_v, plan);
    return {
      branches: terms.branches.map((term, k) => branch(term, term.isValve ? (valveOf[k] ?? -1) : -1)),
      extra: (terms.extra ?? []).map((term) => branch(term, -1)),
      bits: (terms.bits ?? []).map((bit) => numberBit(bit, index, nodeIndex)),
    };
  };
  const atRest = restTerms.map((terms, index) => numbered(index, terms));
  const variants = circuit.components.map(() => new Map<string, Variant>());
  const gone: (Variant | undefined)[] = [];
  const extended = new Map<string, EliminationPlan>();

  return {
    circuit,
    kinds,
    componentIndex: new Map(circuit.components.map((component, index) => [component.id, index])),
    nodeNames,
    nodeIndex,
    innerNodes,
    shift_v,
    plan,
    planWith: (more) => {
      const missing = more.filter(([a, b]) => a >= 0 && b >= 0 && a !== b && plan.entryOf(a, b) < 0);
      if (missing.length === 0) return plan;
      const key = missing.join(';');
      const found = extended.get(key) ?? planElimination(nodeNames.length, [...pairs, ...missing]);
      if (extended.size > MOST_KEPT) extended.clear();
      extended.set(key, found);
      return found;
    },
    branchStart,
    bitStart,
    valveCount: counts.valves,
    bitCount: counts.bits,
    atRest,
    followers: followersOf(circuit, kinds),
    variant: (index, faults, position) => {
      const component = circuit.components[index] as Component;
      const kind = kinds[index] as ComponentKind;
      const follows = kind.follows(component);
      if (faults.length === 0 && follows.length === 0) return atRest[index] as Variant;
      const key = JSON.stringify([faults, follows.map(({ control }) => position(control))]);
      const own = variants[index] as Map<string, Variant>;
      const found = own.get(key) ?? numbered(index, termsOf(circuit, component, kind, faults, position));
      // Typed values can be many; what is kept for reuse is not.
      if (own.size > MOST_KEPT) own.clear();
      own.set(key, found);
      return found;
    },
    goneVariant: (index) => {
      const rest = atRest[index] as Variant;
      gone[index] ??= {
        branches: rest.branches.map((branch) => ({ ...branch, siemens: 0 })),
        extra: [],
        bits: rest.bits.map((bit) => ({ ...bit, canTurnOn: false })),
      };
      return gone[index] as Variant;
    },
  };
}

function restOf(circuit: Circuit, control: string): string {
  return circuit.controls[control]?.rest ?? '';
}

function termsOf(
  circuit: Circuit,
  component: Component,
  kind: ComponentKind,
  faults: readonly SlottedFault[],
  position: (control: string) => string,
): Terms {
  return kind.terms(component, {
    fault: (slot) => faults.find((fault) => fault.slot === slot),
    position,
    ground: circuit.ground,
  });
}

function numberNodes(circuit: Circuit, kinds: readonly ComponentKind[], restTerms: readonly Terms[]) {
  const names: string[] = [];
  const number = new Map<string, number>([[circuit.ground, -1]]);
  const add = (name: string) => {
    if (number.has(name)) return;
    number.set(name, names.length);
    names.push(name);
  };
  const inner = new Set<string>();
  for (const [index, component] of circuit.components.entries()) {
    for (const { node } of kinds[index]?.terminals(component) ?? []) add(node);
    for (const node of kinds[index]?.innerNodes(component) ?? []) {
      add(node);
      inner.add(node);
    }
  }
  const pairs = restTerms.flatMap((terms) =>
    terms.branches.map((term) => [number.get(term.from) ?? -1, number.get(term.to) ?? -1] as const),
  );
  const order = minimumDegreeOrder(names.length, pairs);
  const place = new Int32Array(names.length);
  for (const [k, node] of order.entries()) place[node] = k;
  const placed = (node: number) => (node < 0 ? -1 : (place[node] as number));
  return {
    nodeNames: order.map((node) => names[node] as string),
    nodeIndex: new Map([...number].map(([name, node]) => [name, placed(node)])),
    innerNodes: new Set([...inner].map((name) => placed(number.get(name) ?? -1))),
    pairs: pairs.map(([a, b]) => [placed(a), placed(b)] as const),
  };
}

/**
 * A constant for every node, so that along the best-conducting tree from ground the batteries' volts are
 * already contained in it (along what conducts at rest). Solving for what is left keeps the short-circuit currents of the sources
 * (hundreds of amperes) out of the arithmetic, where they would bury the microamperes of a meter.
 * Any choice gives the same voltages; this one gives them with the smallest rounding error.
 */
function nodeShifts(
  size: number,
  restTerms: readonly Terms[],
  number: ReadonlyMap<string, number>,
): Float64Array {
  const links = restTerms
    .flatMap((terms) =>
      terms.branches.filter((term) => !term.isValve && !term.gate?.length && term.ohm !== null),
    )
    .sort((a, b) => (a.ohm ?? 0) - (b.ohm ?? 0));
  // Kruskal: group[k] is the group of node k - 1 (0 is ground), shift relative to the group's root.
  const group = Int32Array.from({ length: size + 1 }, (_, k) => k);
  const shift = new Float64Array(size + 1);
  const members = Array.from({ length: size + 1 }, (_, k) => [k]);
  for (const link of links) {
    const a = (number.get(link.from) ?? -1) + 1;
    const b = (number.get(link.to) ?? -1) + 1;
    const [ga, gb] = [group[a] as number, group[b] as number];
    if (ga === gb) continue;
    const wanted = (shift[b] as number) + (link.emf_v ?? 0) - (shift[a] as number);
    const isGroundInA = ga === 0;
    const moved =
      isGroundInA || (gb !== 0 && (members[ga]?.length ?? 0) > (members[gb]?.length ?? 0)) ? gb : ga;
    const kept = moved === ga ? gb : ga;
    const step = moved === ga ? wanted : -wanted;
    for (const k of members[moved] ?? []) {
      shift[k] = (shift[k] as number) + step;
      group[k] = kept;
      members[kept]?.push(k);
    }
    members[moved] = [];
  }
  return shift.slice(1);
}

function numberBranch(
  term: Term,
  component: number,
  valve: number,
  bits: ReadonlyMap<string, number>,
  nodes: ReadonlyMap<string, number>,
  shift_v: Float64Array,
  plan: EliminationPlan,
): Branch {
  const from = nodes.get(term.from) ?? -1;
  const to = nodes.get(term.to) ?? -1;
  const emf_v = term.emf_v ?? 0;
  const shift = (node: number) => (node < 0 ? 0 : (shift_v[node] as number));
  return {
    component,
    path: term.path,
    from,
    to,
    siemens: term.ohm === null ? 0 : 1 / term.ohm,
    ohm: term.ohm ?? Number.POSITIVE_INFINITY,
    emf_v,
    drive_v: emf_v - (shift(from) - shift(to)),
    peak_v: term.sine?.peak_v ?? 0,
    phase_rad: ((term.sine?.phase_deg ?? 0) * Math.PI) / 180,
    isSource: term.isSource ?? false,
    valve,
    gates: (term.gate ?? []).map(({ bit, is }) => ({ bit: bits.get(bit) ?? -1, is: is ? 1 : 0 })),
    entry: plan.entryOf(from, to),
  };
}

function numberBit(bit: Bit, component: number, nodes: ReadonlyMap<string, number>): SensedBit {
  return {
    component,
    name: bit.name,
    plus: nodes.get(bit.plus) ?? -1,
    minus: nodes.get(bit.minus) ?? -1,
    on_v: bit.on_v,
    off_v: bit.off_v,
    isAbsolute: bit.measure === 'absolute',
    canTurnOn: bit.canTurnOn,
  };
}

function followersOf(circuit: Circuit, kinds: readonly ComponentKind[]): Map<string, number[]> {
  const followers = new Map<string, number[]>();
  for (const [index, component] of circuit.components.entries()) {
    for (const { control } of kinds[index]?.follows(component) ?? []) {
      const list = followers.get(control) ?? [];
      if (!list.includes(index)) list.push(index);
      followers.set(control, list);
    }
  }
  return followers;
}
