import { describe, expect, it } from 'vitest';
import { type Instrument, readCircuit, solveCircuit } from '../../../src/circuit/index.ts';
import { battery, load, wire } from './bench-pieces.ts';
import { HORN_ON, hornCircuit } from './horn-circuit.ts';

const horn = readCircuit(hornCircuit());
const make = (...components: Record<string, unknown>[]) =>
  readCircuit({ id: 't', ground: 'gnd', components });

describe('the horn circuit, by hand', () => {
  it('at rest stands at the battery’s volts and floats beyond the open contacts', () => {
    const { nodes, chatter, overloads, floating } = solveCircuit(horn);
    expect(nodes).toMatchObject({ 'bat-neg': 0, ign: null, 'coil-low': null, frame: 0 });
    expect(nodes?.fused).toBeCloseTo(12.7, 12);
    expect(chatter).toBe(false);
    expect(overloads).toEqual([]);
    expect(floating).toEqual([['ign', 'coil-low']]);
  });

  it('sounds: 12.7 V through the sum of the resistances, coil beside it', () => {
    const { nodes, currents, imbalance_a } = solveCircuit(horn, { controls: HORN_ON });
    // Kirchhoff by hand: coil branch 80.05 Ω beside horn branch 4.062 Ω, behind 0.018 + 0.008 + 0.003 Ω.
    const both = 1 / (1 / (0.02 + 80 + 0.03) + 1 / (0.002 + 0.06 + 4));
    const total = 12.7 / (0.018 + 0.008 + 0.003 + both);
    expect(currents?.['fuse-1']?.body).toBeCloseTo(total, 9);
    expect(currents?.battery?.body).toBeCloseTo(-total, 9);
    expect(nodes?.['horn-pos']).toBeCloseTo((total * both * 4) / 4.062 + total * 0.003, 9);
    expect(imbalance_a).toBeLessThan(1e-11);
  });

  it('takes points and nodes as ends, tip minus lead', () => {
    const read = (tip: string, lead: string) =>
      solveCircuit(horn, { controls: HORN_ON, instrument: { kind: 'voltmeter', tip, lead } }).reading
        ?.volts ?? Number.NaN;
    expect(read('horn-plug-feed', 'frame')).toBeGreaterThan(12);
    expect(read('frame', 'horn-pos')).toBeCloseTo(-read('horn-plug-feed', 'frame'), 12);
    expect(read('frame', 'frame')).toBe(0);
  });

  it('parts the plug', () => {
    const { nodes, reading } = solveCircuit(horn, {
      controls: HORN_ON,
      unplugged: ['horn-plug'],
      instrument: { kind: 'voltmeter', tip: 'horn-feed', lead: 'frame' },
    });
    expect(reading?.volts).toBeCloseTo(12.6954, 4);
    expect(nodes?.['horn-pos']).toBeCloseTo(0.000476, 6); // only the coil current in the strap
  });

  it('blows no fuse by itself but reports the overload', () => {
    const { overloads } = solveCircuit(horn, {
      controls: HORN_ON,
      faults: [{ component: 'w-horn', mode: 'shorted-to', value: { node: 'frame' } }],
    });
    expect(overloads).toHaveLength(1);
    expect(overloads[0]).toMatchObject({ component: 'fuse-1', rating_a: 10 });
    expect(overloads[0]?.amps).toBeGreaterThan(250);
  });
});

describe('floating', () => {
  const meter: Instrument = { kind: 'voltmeter', tip: 'coil-low', lead: 'bat-neg' };

  it('shows 0 V and says so, and a test lamp stays dark', () => {
    const { reading, nodes } = solveCircuit(horn, { instrument: meter });
    expect(reading).toEqual({ volts: 0, floating: true });
    expect(nodes?.['coil-low']).toBeNull();
    const lamp = solveCircuit(horn, { instrument: { ...meter, kind: 'test-lamp' } });
    expect(lamp.reading).toEqual({ volts: 0, lamp: 'dark', floating: true });
    const toPlus = solveCircuit(horn, { instrument: { ...meter, lead: 'bat-pos', kind: 'test-lamp' } });
    expect(toPlus.reading).toEqual({ volts: 0, lamp: 'dark', floating: true });
  });

  it('loads a node that hangs on a coil only: a real meter, not an ideal one', () => {
    const { reading } = solveCircuit(horn, { controls: { key: 'on' }, instrument: meter });
    expect(reading?.floating).toBeUndefined();
    expect(reading?.volts).toBeCloseTo((12.7 * 1e7) / (1e7 + 80.046), 9);
  });

  it('knows what happens inside an island that hangs in the air', () => {
    const island = make(
      battery,
      { id: 'spare', kind: 'battery', positive: 'x', negative: 'y', emf_v: 6, resistance_ohm: 1 },
      load('r', 'x', 'y', 2),
      wire('w', 'plus', 'z'),
    );
    const { nodes, currents, floating, reading } = solveCircuit(island, {
      instrument: { kind: 'voltmeter', tip: 'x', lead: 'y' },
    });
    expect(nodes).toMatchObject({ x: null, y: null });
    expect(floating).toEqual([['x', 'y']]);
    expect(currents?.r?.body).toBeCloseTo(2, 6);
    expect(reading?.volts).toBeCloseTo(4, 5);
    expect(reading?.floating).toBeUndefined();
  });

  it('keeps a node on the ground’s side of an open strap', () => {
    const { nodes } = solveCircuit(horn, { faults: [{ component: 'strap', mode: 'open' }] });
    expect(nodes?.frame).toBeNull();
    const pressed = solveCircuit(horn, { controls: HORN_ON, faults: [{ component: 'strap', mode: 'open' }] });
    expect(pressed.nodes?.frame).toBeCloseTo(12.7, 9); // pulled up through the coil
  });
});

describe('contacts', () => {
  const relay = (id: string, coil: string[], contact: string[], more = {}) => ({
    id,
    kind: 'relay',
    coil,
    contact,
    coil_ohm: 80,
    pull_in_v: 7,
    drop_out_v: 3,
    contact_ohm: 0.01,
    ...more,
  });

  it('hold themselves once the button has been pressed, and only then', () => {
    const circuit = readCircuit({
      ground: 'gnd',
      controls: { button: { positions: ['released', 'pressed'], rest: 'released' } },
      components: [
        battery,
        {
          id: 'sw',
          kind: 'switch',
          ends: ['plus', 'coil'],
          control: 'button',
          closed_at: ['pressed'],
          resistance_ohm: 0.1,
        },
        relay('k1', ['coil', 'gnd'], ['plus', 'coil']),
      ],
    });
    expect(solveCircuit(circuit).contacts).toEqual({ 'k1.pulled-in': false });
    const pressed = solveCircuit(circuit, { controls: { button: 'pressed' } });
    expect(pressed.contacts).toEqual({ 'k1.pulled-in': true });
    expect(pressed.chatter).toBe(false);
    // Its own contact bridges the button, so a welded contact holds it in after release.
    const welded = solveCircuit(circuit, { faults: [{ component: 'k1', mode: 'contact-welded' }] });
    expect(welded.contacts).toEqual({ 'k1.pulled-in': true });
  });

  it('stay pulled in between drop-out and pull-in: the volts fall when the load comes on', () => {
    const circuit = make(
      { ...battery, resistance_ohm: 1 },
      relay('k1', ['plus', 'gnd'], ['plus', 'out']),
      load('heavy', 'out', 'gnd', 0.7),
    );
    const { contacts, nodes } = solveCircuit(circuit);
    expect(nodes?.plus).toBeLessThan(7);
    expect(nodes?.plus).toBeGreaterThan(3);
    expect(contacts).toEqual({ 'k1.pulled-in': true });
  });

  it('chatter when the load starves its own coil below drop-out', () => {
    const circuit = make(
      { ...battery, resistance_ohm: 1 },
      relay('k1', ['plus', 'gnd'], ['plus', 'out']),
      load('short', 'out', 'gnd', 0.1),
    );
    const solution = solveCircuit(circuit, { instrument: { kind: 'voltmeter', tip: 'plus', lead: 'gnd' } });
    expect(solution).toMatchObject({ chatter: true, nodes: null, reading: null, chattering: ['k1'] });
    expect(Number.isFinite(solution.imbalance_a)).toBe(true);
  });

  it('chatter when a rest contact feeds its own coil (a buzzer), and reading stays null without an instrument', () => {
    const circuit = make(
      battery,
      relay('buzzer', ['coil', 'gnd'], ['plus', 'nothing'], { rest_contact: ['plus', 'coil'] }),
    );
    const { chatter, reading } = solveCircuit(circuit);
    expect(chatter).toBe(true);
    expect(reading).toBeNull();
  });

  it('drive each other down a chain', () => {
    const chain = Array.from({ length: 8 }, (_, k) =>
      relay(`k${k}`, [k ? `n${k}` : 'plus', 'gnd'], ['plus', `n${k + 1}`]),
    );
    const { contacts } = solveCircuit(make(battery, ...chain));
    expect(Object.values(contacts ?? {})).toEqual(Array(8).fill(true));
  });

  it('are updated together: two that cut each other off chatter', () => {
    const circuit = make(
      battery,
      relay('a', ['ca', 'gnd'], ['x', 'gnd'], { rest_contact: ['plus', 'cb'] }),
      relay('b', ['cb', 'gnd'], ['y', 'gnd'], { rest_contact: ['plus', 'ca'] }),
    );
    expect(solveCircuit(circuit)).toMatchObject({ chatter: true, chattering: ['a', 'b'] });
  });

  it('pull in at exactly pull_in_v, either way round', () => {
    const circuit = make(
      battery,
      { id: 'exact', kind: 'battery', positive: 'gnd', negative: 'minus', emf_v: 7, resistance_ohm: 1e-9 },
      relay('k1', ['minus', 'gnd'], ['plus', 'out'], { coil_ohm: 1e9 }),
      load('r', 'out', 'gnd', 10),
    );
    expect(solveCircuit(circuit).contacts).toEqual({ 'k1.pulled-in': true });
  });
});

describe('diodes', () => {
  const diode = (id: string, anode: string, cathode: string) => ({
    id,
    kind: 'diode',
    ends: [anode, cathode],
    drop_v: 0.7,
    on_ohm: 0.05,
  });

  it('conduct one way', () => {
    const on = solveCircuit(make(battery, diode('d', 'plus', 'out'), load('r', 'out', 'gnd', 10)));
    expect(on.currents?.d?.body).toBeCloseTo((12 - 0.7) / (10 + 0.05 + 0.02), 9);
    const off = solveCircuit(make(battery, diode('d', 'out', 'plus'), load('r', 'out', 'gnd', 10)));
    expect(off.nodes?.out).toBe(0);
    expect(off.conducting).toEqual([]);
  });

  it('conduct in series although their joint floats while both are off', () => {
    const { nodes, conducting } = solveCircuit(
      make(battery, diode('d1', 'plus', 'mid'), diode('d2', 'mid', 'out'), load('r', 'out', 'gnd', 10)),
    );
    const amps = (12 - 1.4) / (10 + 0.1 + 0.02);
    expect(nodes?.out).toBeCloseTo(10 * amps, 9);
    expect(conducting).toEqual(['d1.body', 'd2.body']);
  });

  it('in series against each other leave the joint floating', () => {
    const { nodes, conducting } = solveCircuit(
      make(battery, diode('d1', 'plus', 'mid'), diode('d2', 'out', 'mid'), load('r', 'out', 'gnd', 10)),
    );
    expect(nodes).toMatchObject({ mid: null, out: 0 });
    expect(conducting).toEqual([]);
  });

  it('antiparallel: the forward one conducts', () => {
    const { conducting } = solveCircuit(
      make(battery, diode('d1', 'plus', 'out'), diode('d2', 'out', 'plus'), load('r', 'out', 'gnd', 10)),
    );
    expect(conducting).toEqual(['d1.body']);
  });

  it('show a meter their drop at an open end', () => {
    const circuit = make(battery, diode('d', 'plus', 'out'), { ...wire('w', 'out', 'end') });
    expect(solveCircuit(circuit).nodes?.out).toBeNull();
    const { reading } = solveCircuit(circuit, { instrument: { kind: 'voltmeter', tip: 'end', lead: 'gnd' } });
    expect(reading?.volts).toBeCloseTo(11.3, 6);
    expect(reading?.floating).toBeUndefined();
  });

  it('or two batteries through diodes: the higher one feeds', () => {
    const circuit = make(
      battery,
      { ...battery, id: 'second', positive: 'plus-2', emf_v: 11 },
      diode('d1', 'plus', 'out'),
      diode('d2', 'plus-2', 'out'),
      load('r', 'out', 'gnd', 4),
    );
    expect(solveCircuit(circuit).conducting).toEqual(['d1.body']);
  });
});

describe('parallel batteries', () => {
  it('equalize through their resistances', () => {
    const { nodes, currents } = solveCircuit(
      make(battery, { ...battery, id: 'b2', emf_v: 11, resistance_ohm: 0.08 }),
    );
    expect(nodes?.plus).toBeCloseTo((12 / 0.02 + 11 / 0.08) / (1 / 0.02 + 1 / 0.08), 9);
    expect(currents?.battery?.body).toBeCloseTo(-10, 6);
    expect(currents?.b2?.body).toBeCloseTo(10, 6);
  });
});
