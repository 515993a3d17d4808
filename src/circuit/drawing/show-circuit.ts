import type { Bench } from '../assemble.ts';
import type { Circuit, Component } from '../circuit-form.ts';
import { faultModesOf } from '../faults.ts';
import { type Noticed, noticed } from '../noticed.ts';
import type { SignWord } from '../signs.ts';
import { type CircuitSolution, solveCircuit } from '../solve-circuit.ts';
import { terminalsOf } from '../terminals.ts';
import { drawnParts } from './drawn-parts.ts';

/** full: from 80 % of the battery's voltage; part: from 0.5 V; none: below; floating: connected to nothing. */
export type Level = 'full' | 'part' | 'none' | 'floating' | 'chatter';

export interface ShownNode {
  /** Above ground; the mean where the source alternates. Null where it floats, and with chatter. */
  readonly volts: number | null;
  /** Root mean square of the alternating part, where that is 0.05 V or more. */
  readonly volts_ac?: number;
  readonly level: Level;
}

export interface ShownPart {
  /** Mean amperes from the first pole to the second; null with chatter. */
  readonly amps: number | null;
  /** Of switches and relay contacts. */
  readonly closed?: boolean;
  /** What a click on the switch sets. */
  readonly press?: { readonly control: string; readonly position: string };
  /** The control's position, for the label of a switch. */
  readonly stands?: string;
  /** bright, loud, chatter … and the share of what it shows when all is well. */
  readonly word?: SignWord;
  readonly fraction?: number;
  /** The word in the healthy circuit under the same controls, where it differs. */
  readonly healthy?: SignWord;
  /** What is wrong with it in this drawing. */
  readonly fault?: string;
  /** Nothing passes: broken, blown, burnt out. */
  readonly broken?: boolean;
  /** Taken out, or its plug parted. */
  readonly out?: boolean;
}

export interface ShownCircuit {
  readonly chatter: boolean;
  readonly chattering: readonly string[];
  readonly nodes: Readonly<Record<string, ShownNode>>;
  /** By the id of the drawn symbol or wire. */
  readonly parts: Readonly<Record<string, ShownPart>>;
  readonly overloads: CircuitSolution['overloads'];
  /** Every control with the position it stands at here. */
  readonly controls: Readonly<Record<string, string>>;
}

const FULL_FROM = 0.8;
const PART_FROM_V = 0.5;
const LEAST_AC_V = 0.05;
const STANDARD_V = 12;

/**
 * Everything a screen shows over a drawing: volts per node, amperes and state per part, what lamps and horn do.
 * Volts, amperes. Problem `bad-circuit` as solveCircuit.
 */
export function showCircuit(circuit: Circuit, bench: Bench = {}): ShownCircuit {
  const solved = solveCircuit(circuit, bench);
  const signs = noticed(circuit, bench);
  const controls = Object.fromEntries(
    Object.entries(circuit.controls).map(([id, { rest }]) => [id, bench.controls?.[id] ?? rest]),
  );
  return {
    chatter: solved.chatter,
    chattering: solved.chattering,
    nodes: shownNodes(circuit, bench, solved),
    parts: Object.fromEntries(
      circuit.components.flatMap((component) =>
        shownParts(circuit, bench, component, solved, signs, controls),
      ),
    ),
    overloads: solved.overloads,
    controls,
  };
}

function shownNodes(circuit: Circuit, bench: Bench, solved: CircuitSolution): Record<string, ShownNode> {
  const full_v =
    FULL_FROM * Math.max(...circuit.components.map(({ emf_v }) => Number(emf_v ?? 0)), STANDARD_V);
  const alternating = alternatingVolts(circuit, bench, solved);
  const all = new Set(circuit.components.flatMap((c) => terminalsOf(c).map(({ node }) => node)));
  return Object.fromEntries(
    [...all].map((node): [string, ShownNode] => {
      if (!solved.nodes) return [node, { volts: null, level: 'chatter' }];
      const volts = solved.nodes[node] ?? null;
      if (volts === null) return [node, { volts, level: 'floating' }];
      const ac = alternating.get(node) ?? 0;
      const size = Math.hypot(volts, ac);
      const level = size >= full_v ? 'full' : size >= PART_FROM_V ? 'part' : 'none';
      return [node, { volts, level, ...(ac >= LEAST_AC_V ? { volts_ac: ac } : {}) }];
    }),
  );
}

/** A voltmeter set to alternating current, at every node that is still connected, when a winding is in the circuit. */
function alternatingVolts(circuit: Circuit, bench: Bench, solved: CircuitSolution): Map<string, number> {
  const found = new Map<string, number>();
  if (!solved.nodes || !circuit.components.some(({ kind }) => kind.includes('stator'))) return found;
  const out = takenOut(circuit, bench);
  const here = circuit.components.filter(({ id }) => !out.has(id));
  const nodes = new Set(here.flatMap((c) => terminalsOf(c).map(({ node }) => node)));
  if (!nodes.has(circuit.ground)) return found;
  for (const node of nodes) {
    if (node === circuit.ground || (solved.nodes[node] ?? null) === null) continue;
    const instrument = { kind: 'voltmeter', mode: 'ac', lead: circuit.ground, tip: node } as const;
    found.set(node, Math.abs(solveCircuit(circuit, { ...bench, instrument }).reading?.volts ?? 0));
  }
  return found;
}

function takenOut(circuit: Circuit, bench: Bench): ReadonlySet<string> {
  return new Set([
    ...(bench.removed ?? []),
    ...(bench.unplugged ?? []).flatMap((plug) => circuit.plugs[plug]?.parts ?? []),
  ]);
}

const breaking = new Set([
  'open',
  'blown',
  'burnt-out',
  'stuck-open',
  'coil-open',
  'contact-open',
  'supply-open',
]);

function shownParts(
  circuit: Circuit,
  bench: Bench,
  component: Component,
  solved: CircuitSolution,
  signs: Noticed,
  controls: Readonly<Record<string, string>>,
): [string, ShownPart][] {
  const faults = (bench.faults ?? []).filter((fault) => fault.component === component.id);
  const titles = faults.map(
    ({ mode }) => faultModesOf(component.kind).find((info) => info.mode === mode)?.title ?? mode,
  );
  const sign = signs.signs.find((each) => each.component === component.id);
  const own = drawnParts(component);
  const common: ShownPart = {
    amps: null,
    ...(titles.length > 0 ? { fault: titles.join(', ') } : {}),
    ...(faults.some(({ mode }) => breaking.has(mode)) ? { broken: true } : {}),
    ...(takenOut(circuit, bench).has(component.id) ? { out: true } : {}),
    ...(sign ? { word: sign.word, fraction: sign.fraction } : {}),
    ...(sign && sign.word !== sign.healthy.word ? { healthy: sign.healthy.word } : {}),
  };
  const ways = solved.currents?.[component.id];
  const firstWay = ways ? Object.values(ways)[0] : undefined;
  if (own.length === 0) return [[component.id, { ...common, amps: firstWay ?? null }]];
  return own.map(({ id }) => {
    const way = id.slice(component.id.length + 1);
    const amps = (way ? ways?.[way] : firstWay) ?? null;
    return [id, { ...common, amps, ...contactState(component, way, faults, solved, controls, circuit) }];
  });
}

function contactState(
  component: Component,
  way: string,
  faults: readonly { readonly mode: string }[],
  solved: CircuitSolution,
  controls: Readonly<Record<string, string>>,
  circuit: Circuit,
): Partial<ShownPart> {
  const has = (mode: string) => faults.some((fault) => fault.mode === mode);
  if (component.kind === 'relay') {
    const isIn = solved.contacts?.[`${component.id}.pulled-in`] === true;
    if (way === 'contact') return { closed: (isIn && !has('contact-open')) || has('contact-welded') };
    if (way === 'rest-contact') return { closed: !isIn && !has('contact-welded') };
    return {};
  }
  const { control, closed_at: closedAt } = component as { control?: unknown; closed_at?: unknown };
  if (typeof control !== 'string' || !Array.isArray(closedAt)) return {};
  const stands = controls[control] ?? '';
  const positions = circuit.controls[control]?.positions ?? [];
  const isMeantClosed = closedAt.includes(stands);
  const rest = circuit.controls[control]?.rest ?? '';
  const open = closedAt.includes(rest) ? positions.find((position) => !closedAt.includes(position)) : rest;
  const next = isMeantClosed ? open : String(closedAt[0]);
  return {
    closed: (isMeantClosed && !has('stuck-open')) || has('stuck-closed'),
    stands,
    ...(next === undefined ? {} : { press: { control, position: next } }),
  };
}
