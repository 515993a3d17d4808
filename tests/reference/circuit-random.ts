/** Random circuits nobody drew: batteries, loads, switches, relays that drive relays, diodes, between few nodes. */
import {
  type Circuit,
  type Fault,
  type Instrument,
  listFaults,
  readCircuit,
} from '../../src/circuit/index.ts';
import type { Situation } from './circuit-netlist.ts';

/** Mulberry32: small, seeded, good enough to draw circuits with. */
export function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

export interface Recipe {
  relays: boolean;
  diodes: boolean;
}

export function randomCircuit(roll: () => number, recipe: Recipe): Circuit {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(roll() * list.length)] as T;
  const between = (low: number, high: number) => low * (high / low) ** roll();
  const size = 4 + Math.floor(roll() * 9);
  const names = Array.from({ length: size }, (_, k) => `node-${k}`);
  const pair = (): [string, string] => {
    const a = pick(names);
    let b = pick(names);
    while (b === a) b = pick(names);
    return [a, b];
  };
  const kinds = ['wire', 'wire', 'fuse', 'switch', 'switch', 'lamp', 'motor', 'resistor', 'resistor', 'horn'];
  if (recipe.relays) kinds.push('relay', 'relay', 'relay');
  if (recipe.diodes) kinds.push('diode', 'diode', 'diode');
  const fields: Record<string, () => Record<string, unknown>> = {
    wire: () => ({ ends: pair(), resistance_ohm: between(0.002, 0.5) }),
    fuse: () => ({ ends: pair(), rating_a: pick([5, 10, 15]), resistance_ohm: between(0.002, 0.02) }),
    switch: () => ({
      ends: pair(),
      control: pick(['key', 'button']),
      closed_at: pick([['on'], ['off'], ['on', 'half'], ['half']]),
      resistance_ohm: between(0.005, 0.1),
    }),
    lamp: () => ({ ends: pair(), rated_v: 12, rated_w: pick([3, 5, 10, 21, 35]) }),
    motor: () => ({ ends: pair(), running_ohm: between(0.1, 4), stall_ohm: between(0.02, 0.1) }),
    resistor: () => ({ ends: pair(), resistance_ohm: between(0.5, 20_000) }),
    horn: () => ({ ends: pair(), resistance_ohm: between(2, 8) }),
    relay: () => {
      const pull_in_v = between(2, 9);
      return {
        coil: pair(),
        contact: pair(),
        ...(roll() < 0.3 ? { rest_contact: pair() } : {}),
        coil_ohm: between(4, 120),
        pull_in_v,
        drop_out_v: pull_in_v * (0.2 + 0.6 * roll()),
        contact_ohm: between(0.001, 0.02),
      };
    },
    diode: () => ({ ends: pair(), drop_v: pick([0.3, 0.6, 0.7]), on_ohm: between(0.005, 0.2) }),
  };
  const [plus, minus] = pair();
  const components: Record<string, unknown>[] = [
    { id: 'battery', kind: 'battery', positive: plus, negative: minus, emf_v: 12.7, resistance_ohm: 0.018 },
  ];
  if (roll() < 0.3) {
    const [p, m] = roll() < 0.5 ? [plus, minus] : pair();
    components.push({
      id: 'second',
      kind: 'battery',
      positive: p,
      negative: m,
      emf_v: between(6, 14),
      resistance_ohm: between(0.01, 1),
    });
  }
  const count = size + Math.floor(roll() * size * 1.5);
  for (let k = 0; k < count; k++) {
    const kind = pick(kinds);
    components.push({ id: `${kind}-${k}`, kind, ...fields[kind]?.() });
  }
  return readCircuit({
    id: 'random',
    ground: roll() < 0.8 ? minus : plus,
    controls: {
      key: { positions: ['off', 'half', 'on'], rest: 'off' },
      button: { positions: ['off', 'half', 'on'], rest: 'off' },
    },
    plugs: { plug: { parts: [String(pick(components.slice(1)).id)] } },
    components,
  });
}

export function randomSituation(roll: () => number, circuit: Circuit): Situation {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(roll() * list.length)] as T;
  const nodes = [
    ...new Set(
      circuit.components.flatMap((c) =>
        [c.ends, c.coil, c.contact, c.rest_contact].filter(Array.isArray).flat().map(String),
      ),
    ),
  ];
  const all = listFaults(circuit);
  const faults: Fault[] = [];
  while (roll() < 0.6 && faults.length < 3 && all.length > 0) {
    const { component, mode, value } = pick(all);
    if (faults.some((fault) => fault.component === component)) continue;
    faults.push({
      component,
      mode,
      ...(mode === 'shorted-to'
        ? { value: { node: pick(nodes), ohm: 0.01 } }
        : value === undefined
          ? {}
          : { value }),
    });
  }
  const tip = pick(nodes);
  const lead = pick(nodes);
  const instruments: Instrument[] = [
    { kind: 'voltmeter', tip, lead },
    { kind: 'test-lamp', tip, lead },
    { kind: 'ammeter', around: pick(circuit.components).id },
    { kind: 'ohmmeter', tip, lead },
  ];
  const bridge = roll() < 0.15 ? [pick(nodes), pick(nodes)] : undefined;
  return {
    faults,
    controls: { key: pick(['off', 'half', 'on']), button: pick(['off', 'half', 'on']) },
    ...(roll() < 0.15 ? { unplugged: ['plug'] } : {}),
    ...(bridge && bridge[0] !== bridge[1] ? { bridge: bridge as [string, string] } : {}),
    instrument: pick(instruments),
  };
}
