import { describe, expect, it } from 'vitest';
import { type Instrument, readCircuit, type SolveOptions, solveCircuit } from '../../../src/circuit/index.ts';
import { Problem } from '../../../src/problem.ts';
import { battery, load, wire } from './bench-pieces.ts';
import { HORN_ON, hornCircuit } from './horn-circuit.ts';

const horn = readCircuit(hornCircuit());
const make = (...components: Record<string, unknown>[]) =>
  readCircuit({ id: 't', ground: 'gnd', components });

function problemOf(options: SolveOptions, circuit = horn): Problem {
  try {
    solveCircuit(circuit, options);
  } catch (error) {
    if (error instanceof Problem) return error;
    throw error;
  }
  throw new Error('It was solved.');
}

describe('refusals of what is put on the bench', () => {
  const volts: Instrument = { kind: 'voltmeter', tip: 'fused', lead: 'frame' };
  it.each<[string, SolveOptions, string, string | undefined, RegExp]>([
    [
      'an unknown component',
      { faults: [{ component: 'bell', mode: 'open' }] },
      'bad-circuit',
      'bell',
      /bell/,
    ],
    [
      'a fault of another kind',
      { faults: [{ component: 'horn', mode: 'blown' }] },
      'bad-circuit',
      'horn',
      /cannot be “blown”/,
    ],
    [
      'an inherited property as a fault',
      { faults: [{ component: 'horn', mode: 'constructor' }] },
      'bad-circuit',
      'horn',
      /cannot be/,
    ],
    [
      'a short without its node',
      { faults: [{ component: 'w-horn', mode: 'shorted-to' }] },
      'bad-circuit',
      'w-horn',
      /needs a value/,
    ],
    [
      'a short to an unknown node',
      { faults: [{ component: 'w-horn', mode: 'shorted-to', value: { node: 'q' } }] },
      'bad-circuit',
      'w-horn',
      /unknown node “q”/,
    ],
    [
      'a value below zero',
      { faults: [{ component: 'w-horn', mode: 'resistive', value: -3 }] },
      'bad-circuit',
      'w-horn',
      /above 0/,
    ],
    [
      'a value where none belongs',
      { faults: [{ component: 'w-horn', mode: 'open', value: 3 }] },
      'bad-circuit',
      'w-horn',
      /takes no value/,
    ],
    [
      'two faults that exclude each other',
      {
        faults: [
          { component: 'w-horn', mode: 'open' },
          { component: 'w-horn', mode: 'resistive' },
        ],
      },
      'bad-circuit',
      'w-horn',
      /at once/,
    ],
    ['an unknown control', { controls: { kick: 'on' } }, 'bad-circuit', 'kick', /no control/],
    ['an unknown position', { controls: { key: 'lock' } }, 'bad-circuit', 'key', /“lock”/],
    ['an unknown plug', { unplugged: ['seat'] }, 'bad-circuit', 'seat', /no plug/],
    ['an unknown removed part', { removed: ['seat'] }, 'bad-circuit', 'seat', /no component/],
    ['an unknown point', { instrument: { ...volts, tip: 'moon' } }, 'bad-probe', 'moon', /“moon”/],
    [
      'an unknown instrument',
      { instrument: { ...volts, kind: 'oscilloscope' } as unknown as Instrument },
      'bad-probe',
      undefined,
      /oscilloscope/,
    ],
    [
      'an ammeter around nothing',
      { instrument: { kind: 'ammeter', around: 'moon' } },
      'bad-probe',
      'moon',
      /“moon”/,
    ],
    [
      'an ammeter around a removed part',
      { removed: ['horn'], instrument: { kind: 'ammeter', around: 'horn' } },
      'bad-probe',
      'horn',
      /taken out/,
    ],
    [
      'an ammeter around an unplugged part',
      { unplugged: ['horn-plug'], instrument: { kind: 'ammeter', around: 'w-horn' } },
      'bad-probe',
      'w-horn',
      /unplugged/,
    ],
    [
      'a probe on a part that is taken out',
      { removed: ['horn', 'w-horn'], instrument: { ...volts, tip: 'horn-pos' } },
      'bad-probe',
      'w-horn',
      /taken out/,
    ],
    [
      'an ohmmeter on a live island',
      { instrument: { kind: 'ohmmeter', tip: 'fused', lead: 'frame' } },
      'bad-probe',
      'battery',
      /source “battery”/,
    ],
    [
      'an ohmmeter with one live end',
      { instrument: { kind: 'ohmmeter', tip: 'ign', lead: 'frame' } },
      'bad-probe',
      'battery',
      /source “battery”/,
    ],
    [
      'a bridge with both ends on one node',
      { bridge: ['horn-pos', 'horn-plug-feed'] },
      'bad-probe',
      'horn-pos',
      /same node/,
    ],
  ])('%s', (_what, options, code, id, words) => {
    const problem = problemOf(options);
    expect(problem.code).toBe(code);
    expect(problem.where?.id).toBe(id);
    expect(problem.message).toMatch(words);
  });

  it('protects electronic lines, by point or by node name, from lamps and bridges only', () => {
    const draft = hornCircuit();
    draft.points.sensor = { node: 'coil-low', electronic: true };
    const circuit = readCircuit({ ...draft, nodes: { ign: { electronic: true } } });
    for (const tip of ['sensor', 'coil-low', 'ign']) {
      const lamp = problemOf({ instrument: { kind: 'test-lamp', tip, lead: 'frame' } }, circuit);
      expect(lamp.code).toBe('bad-probe');
      expect(lamp.message).toMatch(/electronic/);
      const reversed = problemOf({ instrument: { kind: 'test-lamp', tip: 'frame', lead: tip } }, circuit);
      expect(reversed.where?.field).toBe('instrument.lead');
      expect(problemOf({ bridge: ['bat-pos', tip] }, circuit).message).toMatch(/electronic/);
    }
    const meter = solveCircuit(circuit, {
      controls: { key: 'on' },
      instrument: { kind: 'voltmeter', tip: 'sensor', lead: 'frame' },
    });
    expect(meter.reading?.volts).toBeGreaterThan(12);
  });
});

describe('instruments', () => {
  it('ohmmeter reads a dead part, open between dead parts, and nothing of what is not connected', () => {
    const dead = { removed: ['battery'] };
    const ohms = (tip: string, lead: string, more: SolveOptions = {}) =>
      solveCircuit(horn, { ...dead, ...more, instrument: { kind: 'ohmmeter', tip, lead } }).reading;
    expect(ohms('ign', 'coil-low')?.ohms).toBeCloseTo(80, 9);
    expect(ohms('horn-pos', 'frame')?.ohms).toBeCloseTo(4, 9);
    expect(ohms('horn-feed', 'bat-neg')?.ohms).toBeCloseTo(4.063, 9);
    expect(ohms('bat-pos', 'frame')).toEqual({ ohms: null, open: true });
    expect(JSON.parse(JSON.stringify(ohms('bat-pos', 'frame')))).toEqual({ ohms: null, open: true });
    expect(ohms('horn-pos', 'horn-pos')?.ohms).toBe(0);
  });

  it('ammeter counts from the first end to the second; around a relay its contact, its coil by path', () => {
    const amps = (around: string, path?: string) =>
      solveCircuit(horn, {
        controls: HORN_ON,
        instrument: { kind: 'ammeter', around, ...(path ? { path } : {}) },
      }).reading?.amps ?? 0;
    expect(amps('relay-1')).toBeCloseTo(3.1033, 3);
    expect(amps('relay-1', 'coil')).toBeCloseTo(0.15747, 4);
    expect(amps('battery')).toBeCloseTo(-amps('fuse-1'), 9);
  });

  it('test lamp: 48 Ω, bright from 9.6 V, dim from 1.8 V', () => {
    const lamp = (ohm: number) =>
      solveCircuit(make(battery, load('r', 'plus', 'x', ohm), load('far', 'x', 'gnd', 1e9)), {
        instrument: { kind: 'test-lamp', tip: 'x', lead: 'gnd' },
      }).reading;
    expect(lamp(11.9)?.lamp).toBe('bright'); // 12 · 48 / 59.92 = 9.61 V
    expect(lamp(12.1)?.lamp).toBe('dim'); // 9.58 V
    expect(lamp(271)?.lamp).toBe('dim'); // 1.805 V
    expect(lamp(273)?.lamp).toBe('dark'); // 1.794 V
    expect(lamp(11.9)?.volts).toBeCloseTo((12 * 48) / (48 + 11.92), 5);
  });

  it('diode tester shows the drop one way and open the other', () => {
    const circuit = readCircuit({
      ground: 'b',
      components: [
        { id: 'd', kind: 'diode', anode: 'a', cathode: 'b', drop_v: 0.6, on_ohm: 1 },
        wire('w', 'b', 'c'),
      ],
    });
    const read = (tip: string, lead: string) =>
      solveCircuit(circuit, { instrument: { kind: 'diode-tester', tip, lead } }).reading;
    expect(read('a', 'c')?.volts).toBeCloseTo(0.6 + (2.5 - 0.6) / 1801, 4);
    expect(read('c', 'a')).toEqual({ volts: null, open: true });
    expect(read('b', 'c')?.volts).toBeLessThan(0.001);
  });

  it('bridge: a lead of 0.01 Ω', () => {
    const { currents } = solveCircuit(horn, { bridge: ['fused', 'horn-feed'] });
    expect(currents?.horn?.body).toBeCloseTo(12.7 / (0.018 + 0.008 + 0.01 + 0.06 + 4 + 0.003), 9);
  });
});
