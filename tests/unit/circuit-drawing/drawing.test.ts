/** The drawing of circuits: complete, joined up and orthogonal, whatever the layout; and what a screen shows over it. */
import { describe, expect, it } from 'vitest';
import {
  type Drawing,
  drawCircuit,
  readCircuit,
  showCircuit,
  solveCircuit,
  terminalsOf,
} from '../../../src/circuit/index.ts';
import { shipped, shippedIds } from '../shipped-circuits/shipped-circuits.ts';

type Spot = readonly [number, number];
const key = ([x, y]: Spot) => `${x},${y}`;

/** Where each pole of each part stands, by node. */
function poles(drawing: Drawing): Map<string, Spot[]> {
  const found = new Map<string, Spot[]>();
  const add = (node: string | undefined, spot: Spot | undefined) => {
    if (node === undefined || !spot) throw new Error('a pole without node or place');
    found.set(node, [...(found.get(node) ?? []), spot]);
  };
  for (const wire of drawing.wires) {
    add(wire.nodes[0], wire.path[0]);
    add(wire.nodes[1], wire.path[wire.path.length - 1]);
  }
  for (const { pins, nodes, x, y, turn, length } of drawing.symbols) {
    if (pins) {
      for (const pin of pins) add(pin.node, [pin.x, pin.y]);
      continue;
    }
    const [dx, dy] = { 0: [0, 1], 90: [-1, 0], 180: [0, -1], 270: [1, 0] }[turn] as [number, number];
    add(nodes[0], [x - (dx * length) / 2, y - (dy * length) / 2]);
    add(nodes[1], [x + (dx * length) / 2, y + (dy * length) / 2]);
  }
  return found;
}

/** All poles of a node hang together over its drawn lines, and lines of other nodes never touch them. */
function expectJoined(drawing: Drawing): void {
  const spots = poles(drawing);
  for (const [node, own] of spots) {
    const segments = drawing.lines
      .filter((line) => line.node === node)
      .map(({ path }) => path as [Spot, Spot]);
    const group = new Map<string, number>();
    const all = [...own, ...segments.flat()];
    for (const [k, spot] of all.entries()) group.set(key(spot), group.get(key(spot)) ?? k);
    const on = ([x, y]: Spot, [[ax, ay], [bx, by]]: [Spot, Spot]) =>
      x >= Math.min(ax, bx) && x <= Math.max(ax, bx) && y >= Math.min(ay, by) && y <= Math.max(ay, by);
    for (let round = 0; round <= segments.length; round += 1) {
      for (const segment of segments) {
        const touched = all.filter((spot) => on(spot, segment));
        const least = Math.min(...touched.map((spot) => group.get(key(spot)) ?? 0));
        for (const spot of touched) group.set(key(spot), least);
      }
    }
    expect(new Set(own.map((spot) => group.get(key(spot)))).size, `${drawing.circuitId} ${node}`).toBe(1);
  }
  for (const { node, path } of drawing.lines) {
    for (const [other, own] of spots) {
      if (other === node) continue;
      for (const [x, y] of own) {
        const [[ax, ay], [bx, by]] = path as [Spot, Spot];
        const isOn =
          x >= Math.min(ax, bx) && x <= Math.max(ax, bx) && y >= Math.min(ay, by) && y <= Math.max(ay, by);
        expect(
          isOn,
          `${drawing.circuitId}: the line of ${node} runs over a pole of ${other} at ${x},${y}`,
        ).toBe(false);
      }
    }
  }
}

const plain = (id: string) => readCircuit({ ...structuredClone(shipped(id)), layout: undefined });

describe.each(shippedIds)('%s', (id) => {
  const circuit = shipped(id);

  it.each([
    ['as placed by hand', circuit],
    ['as computed', plain(id)],
  ])('%s: every part once, every pole joined to its node and to no other', (_title, drawn) => {
    const drawing = drawCircuit(drawn);
    const parts = [
      ...drawing.wires.map(({ component }) => component),
      ...drawing.symbols.map(({ id }) => id),
    ];
    expect(new Set(parts).size).toBe(parts.length);
    for (const component of drawn.components) {
      expect(
        parts.some((part) => part === component.id || part.startsWith(`${component.id}.`)),
        component.id,
      ).toBe(true);
    }
    const nodes = new Set(drawn.components.flatMap((c) => terminalsOf(c).map(({ node }) => node)));
    expect(new Set(poles(drawing).keys())).toEqual(nodes);
    expectJoined(drawing);
  });

  it('runs only along the grid and stays on the page', () => {
    const drawing = drawCircuit(circuit);
    for (const { path } of [...drawing.wires, ...drawing.lines]) {
      for (const [k, [x, y]] of path.entries()) {
        const next = path[k + 1];
        if (next) expect(x === next[0] || y === next[1]).toBe(true);
        expect(x).toBeGreaterThan(0);
        expect(x).toBeLessThanOrEqual(drawing.width);
        expect(y).toBeGreaterThan(0);
        expect(y).toBeLessThanOrEqual(drawing.height);
      }
    }
  });

  it('places every probe point on a pole of its node, and joins a relay to its contact', () => {
    const drawing = drawCircuit(circuit);
    const spots = poles(drawing);
    expect(drawing.points.map((point) => point.id)).toEqual(Object.keys(circuit.points));
    for (const point of drawing.points) {
      expect(spots.get(point.node)?.map(key), point.id).toContain(key([point.x, point.y]));
    }
    expect(drawing.links).toHaveLength(circuit.components.filter(({ kind }) => kind === 'relay').length);
  });

  it('shows the volts the solver gives, and a press that leads somewhere', () => {
    const shown = showCircuit(circuit);
    const solved = solveCircuit(circuit);
    for (const [node, { volts }] of Object.entries(shown.nodes)) expect(volts).toBe(solved.nodes?.[node]);
    for (const part of Object.values(shown.parts)) {
      if (!part.press) continue;
      const { control, position } = part.press;
      expect(circuit.controls[control]?.positions).toContain(position);
      expect(position).not.toBe(shown.controls[control]);
    }
  });
});

describe('what is shown', () => {
  const start = shipped('start-ground-button');
  const controls = { key: 'on', 'brake-lever': 'held', 'start-button': 'pressed' };

  it('tells live, part, dead and floating apart', () => {
    const { nodes } = showCircuit(start, {
      controls,
      faults: [{ component: 'front-brake-switch', mode: 'resistive' }],
    });
    expect(nodes['brake-switch-feed']?.level).toBe('full');
    expect(nodes['brake-switch-out']?.level).toBe('part');
    expect(nodes.frame?.level).toBe('none');
    const off = showCircuit(start, { controls: { key: 'off' } });
    expect(off.nodes.switched).toEqual({ volts: null, level: 'floating' });
  });

  it('names the fault, what it breaks, and what the healthy part would show', () => {
    const { parts } = showCircuit(start, {
      controls,
      faults: [{ component: 'relay-supply-wire', mode: 'open' }],
    });
    expect(parts['relay-supply-wire']).toMatchObject({ fault: 'open', broken: true });
    expect(parts['starter-motor']).toMatchObject({ word: 'still', healthy: 'normal' });
    expect(parts['starter-relay.contact']).toMatchObject({ closed: false });
  });

  it('a click on a switch holds it and lets it go again', () => {
    const at = (lever: string) =>
      showCircuit(start, { controls: { 'brake-lever': lever } }).parts['rear-brake-switch'];
    expect(at('released')?.press).toEqual({ control: 'brake-lever', position: 'other held' });
    expect(at('other held')?.press).toEqual({ control: 'brake-lever', position: 'released' });
    expect(at('held')?.press).toEqual({ control: 'brake-lever', position: 'other held' });
  });

  it('welded contacts are closed, open ones are not, whatever the coil does', () => {
    const contact = (mode: string, key: string) =>
      showCircuit(start, { controls: { ...controls, key }, faults: [{ component: 'starter-relay', mode }] })
        .parts['starter-relay.contact']?.closed;
    expect(contact('contact-welded', 'off')).toBe(true);
    expect(contact('contact-open', 'on')).toBe(false);
  });

  it('volts of alternating current beside the mean', () => {
    const lit = showCircuit(shipped('lighting-ac'), { controls: { engine: '5000 1/min', lights: 'on' } });
    expect(lit.nodes['dipped-pos']?.volts_ac).toBeGreaterThan(12);
    expect(Math.abs(lit.nodes['dipped-pos']?.volts ?? 9)).toBeLessThan(0.01);
    expect(lit.nodes['dipped-pos']?.level).toBe('full');
  });

  it('chatter has no volts to show', () => {
    const faults = [{ component: 'battery', mode: 'discharged', value: { emf_v: 12, resistance_ohm: 0.5 } }];
    const shown = showCircuit(start, { controls, faults });
    expect(shown).toMatchObject({ chatter: true, chattering: ['starter-relay'] });
    expect(shown.nodes.switched).toEqual({ volts: null, level: 'chatter' });
    expect(shown.parts['starter-relay.coil']?.word).toBe('chatter');
  });

  it('marks what is unplugged', () => {
    const { parts } = showCircuit(start, { controls, unplugged: ['relay-plug'] });
    expect(parts['relay-plug-supply']?.out).toBe(true);
    expect(parts['relay-supply-wire']?.out).toBeUndefined();
  });
});

describe('layouts that do not fit', () => {
  const battery = { id: 'battery', kind: 'battery', ends: ['plus', 'minus'], emf_v: 12, resistance_ohm: 0.1 };
  const lamp = { id: 'lamp', kind: 'lamp', ends: ['plus', 'minus'], rated_v: 12, rated_w: 5 };
  const drawn = (layout: unknown) => () =>
    drawCircuit(readCircuit({ id: 'small', ground: 'minus', components: [battery, lamp], layout }));
  const good = [
    { x: 4, y: 4, parts: ['battery'] },
    { x: 12, y: 4, parts: ['lamp'] },
  ];

  it('a good one is drawn', () => expect(drawn({ paths: good })).not.toThrow());
  it.each([
    [{ paths: [good[0]] }, /“lamp” is not placed/],
    [{ paths: [...good, { x: 20, y: 4, parts: ['lamp'] }] }, /“lamp” is placed twice/],
    [{ paths: [...good, { x: 20, y: 4, parts: ['horn'] }] }, /“horn” is no part with two ends/],
    [{ paths: [{ ...good[0], from: 'nowhere' }, good[1]] }, /“battery” does not touch “nowhere”/],
    [{ paths: [{ parts: ['battery'] }, good[1]] }, /needs x and y/],
    [{ paths: [] }, /not readable/],
    [{ paths: good, boxes: { coil: { at: [0, 0], size: [4, 4], pins: {} } } }, /no component “coil”/],
  ])('%j', (layout, message) => expect(drawn(layout)).toThrow(message));
});
