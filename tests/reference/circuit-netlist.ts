/**
 * Writes a circuit as a netlist for the outside simulator, from the component table alone (it uses nothing of the
 * solver): contacts and diodes are given as they stand and become resistors and sources.
 */

import type { Circuit, Component, Fault, Instrument } from '../../src/circuit/index.ts';
import { writeBlock } from './circuit-netlist-blocks.ts';

export interface Standing {
  /** component.bit */
  isOn(contact: string): boolean;
  /** component.path */
  conducts(diode: string): boolean;
  /** Of the alternating sources; absent: they stand still at 0. */
  readonly angle_rad?: number;
}

export interface Situation {
  faults?: readonly Fault[];
  controls?: Readonly<Record<string, string>>;
  unplugged?: readonly string[];
  removed?: readonly string[];
  bridge?: readonly [string, string];
  instrument?: Instrument;
}

/**
 * `leaks`: nodes that get 1 TΩ to ground, because a simulator cannot leave a node hanging in the air. With a
 * `prefix` several circuits can stand in one netlist.
 */
export function netlist(
  circuit: Circuit,
  situation: Situation,
  standing: Standing,
  leaks: readonly string[],
  prefix = '',
) {
  const numbers = new Map([[circuit.ground, '0']]);
  const node = (name: string) => {
    const at = circuit.points[name]?.node ?? name;
    const known = numbers.get(at) ?? `${prefix}n${numbers.size}`;
    numbers.set(at, known);
    return known;
  };
  const lines: string[] = [];
  const resistor = (a: string, b: string, ohm: number) =>
    lines.push(`R${prefix}${lines.length} ${node(a)} ${node(b)} ${ohm}`);
  let inner = 0;
  const source = (plus: string, minus: string, emf: number, ohm: number) => {
    const middle = `${prefix}inner${inner++}`;
    lines.push(`V${prefix}${lines.length} ${middle} ${node(minus)} DC ${emf}`);
    lines.push(`R${prefix}${lines.length} ${node(plus)} ${middle} ${ohm}`);
  };
  const gone = new Set([
    ...(situation.removed ?? []),
    ...(situation.unplugged ?? []).flatMap((plug) => circuit.plugs[plug]?.parts ?? []),
  ]);
  const position = (control: unknown) =>
    situation.controls?.[String(control)] ?? circuit.controls[String(control)]?.rest ?? '';
  for (const component of circuit.components) {
    if (gone.has(component.id)) continue;
    const faults = (situation.faults ?? []).filter((fault) => fault.component === component.id);
    write(component, new Map(faults.map((f) => [f.mode, f.value])), { resistor, source, position, standing });
  }
  if (situation.bridge) resistor(situation.bridge[0], situation.bridge[1], 0.01);
  const { instrument } = situation;
  if (instrument?.kind === 'voltmeter') resistor(instrument.tip, instrument.lead, 10e6);
  if (instrument?.kind === 'test-lamp') resistor(instrument.tip, instrument.lead, 48);
  if (instrument?.kind === 'ohmmeter') {
    lines.push(`I${prefix}${lines.length} ${node(instrument.lead)} ${node(instrument.tip)} DC 1`);
  }
  for (const leak of leaks) lines.push(`R${prefix}${lines.length} ${node(leak)} 0 1e12`);
  return { lines, text: joined([lines]), node };
}

/** One netlist of several circuits that share only ground. */
export function joined(circuits: readonly (readonly string[])[]): string {
  return ['circuit', ...circuits.flat(), '.op', '.end'].join('\n');
}

export interface Writer {
  resistor(a: string, b: string, ohm: number): void;
  source(plus: string, minus: string, emf: number, ohm: number): void;
  position(control: unknown): string;
  standing: Standing;
}

export const number = (value: unknown) => Number(value);
export const ends = (component: Component) => component.ends as [string, string];

function write(c: Component, faults: ReadonlyMap<string, unknown>, w: Writer): void {
  const given = (mode: string, standard: number) => {
    const value = faults.get(mode);
    return value === undefined || value === null ? standard : number(value);
  };
  switch (c.kind) {
    case 'battery': {
      const cell = (faults.get('discharged') ?? faults.get('dead') ?? c) as Record<string, unknown>;
      const [plus, minus] = (c.ends ?? [c.positive, c.negative]) as [string, string];
      w.source(plus, minus, number(cell.emf_v), number(cell.resistance_ohm));
      return;
    }
    case 'wire': {
      const [a, b] = ends(c);
      if (!faults.has('open')) {
        w.resistor(a, b, faults.has('resistive') ? given('resistive', 5) : number(c.resistance_ohm));
      }
      const touch = faults.get('shorted-to') as { node: string; ohm?: number } | undefined;
      if (touch) w.resistor(a, touch.node, touch.ohm ?? 0.01);
      return;
    }
    case 'fuse':
      if (!faults.has('blown')) w.resistor(...ends(c), number(c.resistance_ohm));
      return;
    case 'switch':
    case 'thermo-switch': {
      const isClosed =
        !faults.has('stuck-open') &&
        (faults.has('stuck-closed') || (c.closed_at as string[]).includes(w.position(c.control)));
      if (isClosed) {
        w.resistor(...ends(c), faults.has('resistive') ? given('resistive', 5) : number(c.resistance_ohm));
      }
      return;
    }
    case 'lamp':
      if (!faults.has('burnt-out')) w.resistor(...ends(c), number(c.rated_v) ** 2 / number(c.rated_w));
      return;
    case 'relay': {
      const coil = c.coil as [string, string];
      if (faults.has('coil-shorted')) w.resistor(...coil, given('coil-shorted', 0.2));
      else if (!faults.has('coil-open')) w.resistor(...coil, number(c.coil_ohm));
      const isIn = w.standing.isOn(`${c.id}.pulled-in`);
      const isWelded = faults.has('contact-welded');
      if (!faults.has('contact-open') && (isIn || isWelded)) {
        const ohm = faults.has('contact-resistive') ? given('contact-resistive', 0.5) : number(c.contact_ohm);
        w.resistor(...(c.contact as [string, string]), ohm);
      }
      if (c.rest_contact && !isIn && !isWelded) {
        w.resistor(...(c.rest_contact as [string, string]), number(c.contact_ohm));
      }
      return;
    }
    case 'motor': {
      if (faults.has('open')) return;
      const running = number(c.running_ohm);
      const ohm = faults.has('seized')
        ? given('seized', number(c.stall_ohm))
        : faults.has('worn')
          ? given('worn', 4 * running)
          : running;
      w.resistor(...ends(c), ohm);
      return;
    }
    case 'resistor':
    case 'horn':
      if (!faults.has('open')) {
        w.resistor(...ends(c), faults.has('resistive') ? given('resistive', 5) : number(c.resistance_ohm));
      }
      return;
    case 'diode':
      if (faults.has('shorted')) w.resistor(...ends(c), given('shorted', 0.01));
      else if (!faults.has('open') && w.standing.conducts(`${c.id}.body`)) {
        w.source(...ends(c), number(c.drop_v), number(c.on_ohm));
      }
      return;
    default:
      writeBlock(c, faults, w);
  }
}
