/** Stators, rectifiers and regulators at phase-angle points, against the formulas every textbook of rectifiers gives. */
import { describe, expect, it } from 'vitest';
import { type Instrument, readCircuit, solveCircuit } from '../../../src/circuit/index.ts';

const engine = { engine: { positions: ['stopped', 'running'], rest: 'stopped' } };
const RUNNING = { engine: 'running' };
const winding = { emf_rms_v: 20, resistance_ohm: 0.5, control: 'engine', running_at: ['running'] };
const meter = (tip: string, lead: string, mode: 'ac' | 'dc' = 'dc'): Instrument => ({
  kind: 'voltmeter',
  tip,
  lead,
  mode,
});
const load = { id: 'load', kind: 'resistor', ends: ['out', 'gnd'], resistance_ohm: 100 };
const IDEAL = { drop_v: 0, on_ohm: 1e-6 };

describe('one winding', () => {
  const circuit = readCircuit({
    ground: 'gnd',
    controls: engine,
    components: [
      { id: 'stator', kind: 'stator', ends: ['line', 'gnd'], ...winding },
      { id: 'd', kind: 'diode', ends: ['line', 'out'], ...IDEAL },
      load,
    ],
  });
  const peak = (20 * Math.SQRT2 * 100) / 100.5;

  it('is dead while the engine stands, and reads its resistance to ground', () => {
    expect(solveCircuit(circuit, { instrument: meter('line', 'gnd', 'ac') }).reading?.volts).toBe(0);
    expect(
      solveCircuit(circuit, { instrument: { kind: 'ohmmeter', tip: 'line', lead: 'gnd' } }).reading?.ohms,
    ).toBeCloseTo(0.5, 9);
    expect(() =>
      solveCircuit(circuit, {
        controls: RUNNING,
        instrument: { kind: 'ohmmeter', tip: 'line', lead: 'gnd' },
      }),
    ).toThrow(/source “stator”/);
  });

  it('without load reads its root mean square in ac and nothing in dc', () => {
    const open = { controls: RUNNING, removed: ['d'] };
    expect(
      solveCircuit(circuit, { ...open, instrument: meter('line', 'gnd', 'ac') }).reading?.volts,
    ).toBeCloseTo(20, 5);
    expect(solveCircuit(circuit, { ...open, instrument: meter('line', 'gnd') }).reading?.volts).toBeCloseTo(
      0,
      9,
    );
  });

  it('rectified half-wave: mean = peak / π, within 0.3 % of 36 points', () => {
    const { reading } = solveCircuit(circuit, { controls: RUNNING, instrument: meter('out', 'gnd') });
    expect(Math.abs((reading?.volts ?? 0) * (Math.PI / peak) - 1)).toBeLessThan(0.003);
  });

  it('lights a test lamp by its root mean square', () => {
    const lamp = { kind: 'test-lamp', tip: 'line', lead: 'gnd' } as const;
    const { reading } = solveCircuit(circuit, { controls: RUNNING, removed: ['d'], instrument: lamp });
    expect(reading?.volts).toBeCloseTo((20 * 48) / 48.5, 9);
    expect(reading?.lamp).toBe('bright');
  });
});

describe('full wave', () => {
  it('of one winding: mean = 2 peak / π', () => {
    const circuit = readCircuit({
      ground: 'gnd',
      components: [
        { id: 'stator', kind: 'stator', ends: ['a', 'b'], emf_rms_v: 20, resistance_ohm: 0.5 },
        { id: 'bridge', kind: 'rectifier', ac: ['a', 'b'], positive: 'out', negative: 'gnd', ...IDEAL },
        load,
      ],
    });
    const { reading } = solveCircuit(circuit, { instrument: meter('out', 'gnd') });
    const peak = (20 * Math.SQRT2 * 100) / 100.5;
    expect(Math.abs((reading?.volts ?? 0) * (Math.PI / (2 * peak)) - 1)).toBeLessThan(0.003);
  });

  const threePhase = {
    ground: 'gnd',
    controls: engine,
    components: [
      { id: 'stator', kind: 'three-phase-stator', ends: ['u', 'v', 'w'], ...winding },
      { id: 'bridge', kind: 'rectifier', ac: ['u', 'v', 'w'], positive: 'out', negative: 'gnd', ...IDEAL },
      load,
    ],
  };

  it('of three phases: mean = 3 √3 peak / π', () => {
    const circuit = readCircuit(threePhase);
    const { reading, imbalance_a } = solveCircuit(circuit, {
      controls: RUNNING,
      instrument: meter('out', 'gnd'),
    });
    const wanted = (3 * Math.sqrt(3) * 20 * Math.SQRT2) / Math.PI;
    // Two windings of 0.5 Ω lie in series with the load.
    expect(Math.abs(((reading?.volts ?? 0) * 101) / 100 / wanted - 1)).toBeLessThan(0.003);
    expect(imbalance_a).toBeLessThan(1e-6);
  });

  it('of three phases does not read to ground, unless a winding has rubbed through', () => {
    const circuit = readCircuit(threePhase);
    const toGround: Instrument = { kind: 'ohmmeter', tip: 'v', lead: 'gnd' };
    expect(solveCircuit(circuit, { instrument: toGround }).reading).toEqual({ ohms: null, open: true });
    expect(solveCircuit(circuit, { instrument: { ...toGround, lead: 'u' } }).reading?.ohms).toBeCloseTo(1, 9);
    const faults = [{ component: 'stator', mode: 'shorted-to', value: { node: 'gnd' } }];
    expect(solveCircuit(circuit, { faults, instrument: toGround }).reading?.ohms).toBeCloseTo(1.01, 9);
  });

  it('with a winding open, weak, or a diode open gives less', () => {
    const circuit = readCircuit(threePhase);
    const volts = (mode?: string, component = 'stator') =>
      solveCircuit(circuit, {
        controls: RUNNING,
        faults: mode ? [{ component, mode }] : [],
        instrument: meter('out', 'gnd'),
      }).reading?.volts ?? 0;
    expect(volts('weak') / volts()).toBeCloseTo(0.5, 6);
    expect(volts('winding-open')).toBeLessThan(0.75 * volts());
    expect(volts('diode-open', 'bridge')).toBeLessThan(0.95 * volts());
    const lines = (tip: string, lead: string) =>
      solveCircuit(circuit, {
        controls: RUNNING,
        removed: ['bridge'],
        faults: [{ component: 'stator', mode: 'winding-open', value: 3 }],
        instrument: meter(tip, lead, 'ac'),
      }).reading;
    expect(lines('u', 'v')?.volts).toBeCloseTo(20 * Math.sqrt(3), 4);
    expect(lines('v', 'w')).toEqual({ volts: 0, floating: true });
  });
});

describe('charging a battery', () => {
  const charging = readCircuit({
    ground: 'gnd',
    controls: engine,
    components: [
      {
        id: 'battery',
        kind: 'battery',
        positive: 'plus',
        negative: 'gnd',
        emf_v: 13,
        resistance_ohm: 0.15,
      },
      { id: 'stator', kind: 'three-phase-stator', ends: ['u', 'v', 'w'], ...winding },
      {
        id: 'bridge',
        kind: 'rectifier',
        ac: ['u', 'v', 'w'],
        positive: 'plus',
        negative: 'gnd',
        drop_v: 0.8,
        on_ohm: 0.02,
      },
      { id: 'regulator', kind: 'shunt-regulator', ends: ['plus', 'gnd'], limit_v: 14.2, on_ohm: 0.02 },
      { id: 'lamps', kind: 'lamp', ends: ['plus', 'gnd'], rated_v: 12, rated_w: 60 },
    ],
  });
  const volts = (controls: Record<string, string>, faults: { component: string; mode: string }[] = []) =>
    solveCircuit(charging, { controls, faults, instrument: meter('plus', 'gnd') }).reading?.volts ?? 0;

  it('lies below 13 V at rest and near the limit when running', () => {
    expect(volts({})).toBeCloseTo((13 * 2.4) / 2.55, 5);
    expect(volts(RUNNING)).toBeGreaterThan(13.8);
    expect(volts(RUNNING)).toBeLessThan(14.8);
  });

  it('overcharges with an open regulator and charges less with two lines touching', () => {
    expect(volts(RUNNING, [{ component: 'regulator', mode: 'open' }])).toBeGreaterThan(15);
    expect(volts(RUNNING, [{ component: 'stator', mode: 'phases-shorted' }])).toBeLessThan(volts(RUNNING));
  });

  it('shows the battery’s charging current as positive into its first end', () => {
    const { reading } = solveCircuit(charging, {
      controls: RUNNING,
      instrument: { kind: 'ammeter', around: 'battery' },
    });
    expect(reading?.amps).toBeGreaterThan(5);
  });
});

describe('blocks', () => {
  it('a control unit closes its output by its inputs, and a dead one does not', () => {
    const circuit = readCircuit({
      ground: 'gnd',
      controls: { button: { positions: ['released', 'pressed'], rest: 'released' } },
      components: [
        {
          id: 'battery',
          kind: 'battery',
          positive: 'plus',
          negative: 'gnd',
          emf_v: 12.5,
          resistance_ohm: 0.02,
        },
        {
          id: 'button',
          kind: 'switch',
          ends: ['sense', 'gnd'],
          control: 'button',
          closed_at: ['pressed'],
          resistance_ohm: 0.05,
        },
        {
          id: 'unit',
          kind: 'control-unit',
          supply: ['plus', 'gnd'],
          supply_ohm: 120,
          works_from_v: 7,
          inputs: [{ id: 'start', ends: ['sense', 'gnd'], pull_up_ohm: 1000, below_v: 3 }],
          outputs: [{ ends: ['low', 'gnd'], resistance_ohm: 0.1, needs: ['start'] }],
          lines: [{ ends: ['five', 'gnd'], emf_v: 5, resistance_ohm: 10 }],
        },
        {
          id: 'relay',
          kind: 'relay',
          coil: ['plus', 'low'],
          contact: ['plus', 'out'],
          coil_ohm: 60,
          pull_in_v: 7,
          drop_out_v: 3,
          contact_ohm: 0.01,
        },
        { id: 'load', kind: 'resistor', ends: ['out', 'gnd'], resistance_ohm: 5 },
      ],
    });
    const out = (options: Parameters<typeof solveCircuit>[1]) => solveCircuit(circuit, options).nodes;
    expect(out({})?.out).toBe(0);
    expect(out({})?.sense).toBeGreaterThan(12);
    expect(out({})?.five).toBeCloseTo(5, 9);
    expect(out({ controls: { button: 'pressed' } })?.out).toBeGreaterThan(12);
    expect(out({ controls: { button: 'pressed' }, faults: [{ component: 'unit', mode: 'dead' }] })?.out).toBe(
      0,
    );
    expect(
      out({ controls: { button: 'pressed' }, faults: [{ component: 'battery', mode: 'dead' }] })?.five,
    ).toBeNull();
    expect(out({ faults: [{ component: 'unit', mode: 'output-closed' }] })?.out).toBeGreaterThan(12);
  });

  it('a series regulator holds its output while its input is high enough', () => {
    const circuit = readCircuit({
      ground: 'gnd',
      components: [
        {
          id: 'battery',
          kind: 'battery',
          positive: 'plus',
          negative: 'gnd',
          emf_v: 12.5,
          resistance_ohm: 0.02,
        },
        {
          id: 'reg',
          kind: 'series-regulator',
          input: 'plus',
          output: 'five',
          return: 'gnd',
          output_v: 5,
          on_ohm: 0.2,
          works_from_v: 6.5,
          idle_ohm: 500,
        },
        { id: 'load', kind: 'resistor', ends: ['five', 'gnd'], resistance_ohm: 100 },
      ],
    });
    expect(solveCircuit(circuit).nodes?.five).toBeCloseTo((5 * 100) / 100.2, 9);
    expect(solveCircuit(circuit, { faults: [{ component: 'battery', mode: 'dead' }] }).nodes?.five).toBe(0);
    expect(
      solveCircuit(circuit, { faults: [{ component: 'reg', mode: 'passes-through' }] }).nodes?.five,
    ).toBeGreaterThan(12);
  });

  it('a zener holds its volts backward', () => {
    const circuit = readCircuit({
      ground: 'gnd',
      components: [
        {
          id: 'battery',
          kind: 'battery',
          positive: 'plus',
          negative: 'gnd',
          emf_v: 12,
          resistance_ohm: 0.02,
        },
        { id: 'r', kind: 'resistor', ends: ['plus', 'z'], resistance_ohm: 100 },
        { id: 'zener', kind: 'zener', anode: 'gnd', cathode: 'z', zener_v: 5.6, drop_v: 0.7, on_ohm: 2 },
      ],
    });
    expect(solveCircuit(circuit).nodes?.z).toBeCloseTo(5.6 + (2 * 6.4) / 102.02, 9);
  });
});
