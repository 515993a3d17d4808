/** Alternators, rectifiers, regulators, units and sensors for the netlist, again from the component table alone. */
import type { Component } from '../../src/circuit/index.ts';
import { ends, number, type Writer } from './circuit-netlist.ts';

type Faults = ReadonlyMap<string, unknown>;
type Pair = [string, string];

export function writeBlock(c: Component, faults: Faults, w: Writer): void {
  const writer = blocks[c.kind];
  if (!writer) throw new Error(`The netlist writer does not know ${c.kind}.`);
  writer(c, faults, w);
}

const given = (faults: Faults, mode: string, standard: number) => number(faults.get(mode) ?? standard);

/** Volts of a winding at the angle, `phase_deg` ahead. */
function sine(c: Component, faults: Faults, w: Writer, phase_deg: number): number {
  const at = w.position(c.control);
  const byPosition = c.emf_at as Record<string, number> | undefined;
  const runs = c.control === undefined || ((c.running_at ?? []) as string[]).includes(at);
  const rms = byPosition && c.control !== undefined ? (byPosition[at] ?? 0) : runs ? number(c.emf_rms_v) : 0;
  const share = faults.has('weak') ? given(faults, 'weak', 0.5) : 1;
  const angle = (w.standing.angle_rad ?? 0) + (phase_deg * Math.PI) / 180;
  return rms * Math.SQRT2 * share * Math.sin(angle);
}

function touch(c: Component, faults: Faults, w: Writer): void {
  const value = faults.get('shorted-to') as { node: string; ohm?: number } | undefined;
  if (value) w.resistor((c.ends as string[])[0] as string, value.node, value.ohm ?? 0.01);
}

function followingResistance(c: Component, faults: Faults, w: Writer): void {
  const table = c.ohm_at as Record<string, number> | undefined;
  const at = table && c.control !== undefined ? table[w.position(c.control)] : undefined;
  const healthy = at ?? (c.resistance_ohm as number | undefined);
  const first = number(c.resistance_ohm ?? Object.values(table ?? {})[0]);
  if (faults.has('open')) return;
  if (faults.has('shorted')) w.resistor(...ends(c), given(faults, 'shorted', 0.01));
  else if (faults.has('resistive')) w.resistor(...ends(c), given(faults, 'resistive', 3 * first));
  else if (healthy !== undefined) w.resistor(...ends(c), healthy);
}

const blocks: Record<string, (c: Component, faults: Faults, w: Writer) => void> = {
  stator(c, faults, w) {
    if (faults.has('shorted')) w.resistor(...ends(c), given(faults, 'shorted', 0.05));
    else if (!faults.has('open')) {
      w.source(...ends(c), sine(c, faults, w, number(c.phase_deg ?? 0)), number(c.resistance_ohm));
    }
    touch(c, faults, w);
  },
  'three-phase-stator'(c, faults, w) {
    const lines = c.ends as string[];
    const open = faults.has('winding-open') ? given(faults, 'winding-open', 1) : 0;
    for (const [k, line] of lines.entries()) {
      if (open === k + 1) continue;
      w.source(line, `${c.id}#star`, sine(c, faults, w, -120 * k), number(c.resistance_ohm));
    }
    if (faults.has('phases-shorted')) {
      w.resistor(lines[0] as string, lines[1] as string, given(faults, 'phases-shorted', 0.01));
    }
    touch(c, faults, w);
  },
  rectifier(c, faults, w) {
    const open = faults.has('diode-open') ? given(faults, 'diode-open', 1) : 0;
    const shorted = faults.has('diode-shorted') ? given(faults, 'diode-shorted', 1) : 0;
    for (const [k, line] of (c.ac as string[]).entries()) {
      const pairs: Pair[] = [
        [line, String(c.positive)],
        [String(c.negative), line],
      ];
      for (const [side, pair] of pairs.entries()) {
        const index = 2 * k + side + 1;
        if (index === open) continue;
        if (index === shorted) w.resistor(...pair, 0.01);
        else if (w.standing.conducts(`${c.id}.diode-${index}`)) {
          w.source(...pair, number(c.drop_v), number(c.on_ohm));
        }
      }
    }
  },
  zener(c, faults, w) {
    const [anode, cathode] = (c.ends ?? [c.anode, c.cathode]) as Pair;
    if (faults.has('shorted')) w.resistor(anode, cathode, given(faults, 'shorted', 0.01));
    else if (!faults.has('open')) {
      if (w.standing.conducts(`${c.id}.forward`))
        w.source(anode, cathode, number(c.drop_v), number(c.on_ohm));
      if (w.standing.conducts(`${c.id}.backward`))
        w.source(cathode, anode, number(c.zener_v), number(c.on_ohm));
    }
  },
  'shunt-regulator'(c, faults, w) {
    const [line, back] = ends(c);
    if (faults.has('shorted')) w.resistor(line, back, given(faults, 'shorted', 0.01));
    else if (!faults.has('open')) {
      if (w.standing.conducts(`${c.id}.body`)) w.source(line, back, number(c.limit_v), number(c.on_ohm));
      if (w.standing.conducts(`${c.id}.other-way`)) w.source(back, line, number(c.limit_v), number(c.on_ohm));
    }
  },
  'series-regulator'(c, faults, w) {
    const [input, output, back] = [String(c.input), String(c.output), String(c.return)];
    w.resistor(input, back, number(c.idle_ohm));
    if (faults.has('passes-through')) w.resistor(input, output, given(faults, 'passes-through', 0.05));
    else if (!faults.has('dead') && w.standing.isOn(`${c.id}.works`)) {
      w.source(output, back, number(c.output_v), number(c.on_ohm));
    }
  },
  flasher(c, faults, w) {
    if (faults.has('stuck-open')) return;
    const isLit =
      c.control === undefined || ((c.closed_at ?? []) as string[]).includes(w.position(c.control));
    if (!isLit && !faults.has('stuck-closed')) return;
    w.resistor(
      ...ends(c),
      faults.has('resistive') ? given(faults, 'resistive', 5) : number(c.resistance_ohm),
    );
  },
  'control-unit'(c, faults, w) {
    const works = w.standing.isOn(`${c.id}.works`);
    const supply = c.supply as Pair;
    if (!faults.has('supply-open')) w.resistor(...supply, number(c.supply_ohm));
    for (const input of (c.inputs ?? []) as Record<string, unknown>[]) {
      const pair = input.ends as Pair;
      if (input.load_ohm !== undefined) w.resistor(...pair, number(input.load_ohm));
      if (input.pull_up_ohm !== undefined) w.resistor(supply[0], pair[0], number(input.pull_up_ohm));
    }
    for (const output of (c.outputs ?? []) as Record<string, unknown>[]) {
      const needs = (output.needs ?? []) as string[];
      const positions = output.closed_at as string[] | undefined;
      const isMeant =
        works &&
        needs.every((need) => w.standing.isOn(`${c.id}.input-${need}`)) &&
        (positions === undefined || positions.includes(w.position(c.control)));
      const isClosed = faults.has('output-closed') || (isMeant && !faults.has('output-open'));
      if (isClosed) w.resistor(...(output.ends as Pair), number(output.resistance_ohm));
    }
    for (const line of (c.lines ?? []) as Record<string, unknown>[]) {
      if (works) w.source(...(line.ends as Pair), number(line.emf_v), number(line.resistance_ohm));
    }
  },
  'discharge-ignition'(c, faults, w) {
    const supply = c.supply as Pair;
    if (!faults.has('supply-open')) w.resistor(...supply, number(c.supply_ohm));
    const stop = c.stop as Pair | undefined;
    if (!stop) return;
    w.resistor(supply[0], stop[0], number(c.stop_pull_up_ohm));
    if (faults.has('stop-shorted')) w.resistor(...stop, 0.01);
  },
  sensor: followingResistance,
  'variable-resistor': followingResistance,
};
