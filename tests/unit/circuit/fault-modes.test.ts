/** The element each fault mode puts in, kind by kind, read with our own meters on a circuit of that one component. */
import { describe, expect, it } from 'vitest';
import {
  type Fault,
  faultModesOf,
  listFaults,
  listKinds,
  readCircuit,
  solveCircuit,
} from '../../../src/circuit/index.ts';

const controls = { sw: { positions: ['open', 'closed'], rest: 'open' } };
const far = { id: 'far', kind: 'resistor', ends: ['third', 'b'], resistance_ohm: 1e10 };

function ohms(
  component: Record<string, unknown>,
  fault: Omit<Fault, 'component'> | null,
  options: { at?: string; tip?: string; lead?: string } = {},
) {
  const circuit = readCircuit({ ground: 'b', controls, components: [{ id: 'it', ...component }, far] });
  const { reading } = solveCircuit(circuit, {
    faults: fault ? [{ component: 'it', ...fault }] : [],
    controls: options.at ? { sw: options.at } : {},
    instrument: { kind: 'ohmmeter', tip: options.tip ?? 'a', lead: options.lead ?? 'b' },
  });
  return reading?.open ? 'open' : reading?.ohms;
}

const ends = ['a', 'b'];
const wire = { kind: 'wire', ends, resistance_ohm: 0.02 };
const sw = { kind: 'switch', ends, control: 'sw', closed_at: ['closed'], resistance_ohm: 0.03 };
const relay = {
  kind: 'relay',
  coil: ['c', 'b'],
  contact: ['a', 'b'],
  coil_ohm: 80,
  pull_in_v: 7,
  drop_out_v: 3,
  contact_ohm: 0.002,
};
const motor = { kind: 'motor', ends, running_ohm: 0.1, stall_ohm: 0.03 };
const coil = { tip: 'c' };

const table: [
  string,
  Record<string, unknown>,
  Omit<Fault, 'component'> | null,
  number | 'open',
  Parameters<typeof ohms>[2]?,
][] = [
  ['wire', wire, null, 0.02],
  ['wire open', wire, { mode: 'open' }, 'open'],
  ['wire resistive', wire, { mode: 'resistive' }, 5],
  ['wire resistive 2 Ω', wire, { mode: 'resistive', value: 2 }, 2],
  ['wire resistive {ohm}', wire, { mode: 'resistive', value: { ohm: 3 } }, 3],
  [
    'wire shorted, still conducting',
    wire,
    { mode: 'shorted-to', value: { node: 'third' } },
    1 / (1 / 0.02 + 1 / (1e10 + 0.01)),
  ],
  [
    'wire shorted: from its first end',
    wire,
    { mode: 'shorted-to', value: { node: 'third' } },
    0.01,
    { lead: 'third' },
  ],
  [
    'wire shorted 0.5 Ω',
    wire,
    { mode: 'shorted-to', value: { node: 'third', ohm: 0.5 } },
    0.5,
    { lead: 'third' },
  ],
  ['fuse', { kind: 'fuse', ends, rating_a: 10, resistance_ohm: 0.008 }, null, 0.008],
  ['fuse blown', { kind: 'fuse', ends, rating_a: 10, resistance_ohm: 0.008 }, { mode: 'blown' }, 'open'],
  ['switch open', sw, null, 'open'],
  ['switch closed', sw, null, 0.03, { at: 'closed' }],
  ['switch stuck open', sw, { mode: 'stuck-open' }, 'open', { at: 'closed' }],
  ['switch stuck closed', sw, { mode: 'stuck-closed' }, 0.03],
  ['switch resistive where closed', sw, { mode: 'resistive' }, 5, { at: 'closed' }],
  ['switch resistive, open', sw, { mode: 'resistive' }, 'open'],
  ['thermo-switch', { ...sw, kind: 'thermo-switch' }, null, 0.03, { at: 'closed' }],
  ['lamp', { kind: 'lamp', ends, rated_v: 12, rated_w: 21 }, null, 144 / 21],
  ['lamp burnt out', { kind: 'lamp', ends, rated_v: 12, rated_w: 21 }, { mode: 'burnt-out' }, 'open'],
  ['relay coil', relay, null, 80, coil],
  ['relay contact at rest', relay, null, 'open'],
  ['relay coil open', relay, { mode: 'coil-open' }, 'open', coil],
  ['relay coil shorted', relay, { mode: 'coil-shorted' }, 0.2, coil],
  ['relay contact welded', relay, { mode: 'contact-welded' }, 0.002],
  ['motor', motor, null, 0.1],
  ['motor open', motor, { mode: 'open' }, 'open'],
  ['motor seized', motor, { mode: 'seized' }, 0.03],
  ['motor worn', motor, { mode: 'worn' }, 0.4],
  ['motor worn 0.25 Ω', motor, { mode: 'worn', value: 0.25 }, 0.25],
  ['resistor', { kind: 'resistor', ends, resistance_ohm: 4 }, null, 4],
  ['resistor open', { kind: 'resistor', ends, resistance_ohm: 4 }, { mode: 'open' }, 'open'],
  ['resistor resistive', { kind: 'resistor', ends, resistance_ohm: 4 }, { mode: 'resistive' }, 5],
  ['diode at rest', { kind: 'diode', ends, drop_v: 0.7, on_ohm: 0.05 }, null, 'open'],
  ['diode shorted', { kind: 'diode', ends, drop_v: 0.7, on_ohm: 0.05 }, { mode: 'shorted' }, 0.01],
  [
    'zener shorted',
    { kind: 'zener', ends, zener_v: 14, drop_v: 0.7, on_ohm: 0.05 },
    { mode: 'shorted' },
    0.01,
  ],
  [
    'stator, engine off',
    { kind: 'stator', ends, emf_rms_v: 20, resistance_ohm: 0.6, control: 'sw', running_at: ['closed'] },
    null,
    0.6,
  ],
  [
    'stator open',
    { kind: 'stator', ends, emf_rms_v: 20, resistance_ohm: 0.6, control: 'sw', running_at: ['closed'] },
    { mode: 'open' },
    'open',
  ],
  [
    'stator shorted',
    { kind: 'stator', ends, emf_rms_v: 20, resistance_ohm: 0.6, control: 'sw', running_at: ['closed'] },
    { mode: 'shorted' },
    0.05,
  ],
  ['sensor cold', { kind: 'sensor', ends, control: 'sw', ohm_at: { open: 2500, closed: 300 } }, null, 2500],
  [
    'sensor hot',
    { kind: 'sensor', ends, control: 'sw', ohm_at: { open: 2500, closed: 300 } },
    null,
    300,
    { at: 'closed' },
  ],
  ['sensor shorted', { kind: 'sensor', ends, resistance_ohm: 300 }, { mode: 'shorted' }, 0.01],
  ['sensor off its curve', { kind: 'sensor', ends, resistance_ohm: 300 }, { mode: 'resistive' }, 900],
  ['variable resistor', { kind: 'variable-resistor', ends, resistance_ohm: 90 }, null, 90],
  [
    'shunt regulator shorted',
    { kind: 'shunt-regulator', ends, limit_v: 14, on_ohm: 0.1 },
    { mode: 'shorted' },
    0.01,
  ],
  ['flasher, lit half', { kind: 'flasher', ends, resistance_ohm: 0.02 }, null, 0.02],
  ['flasher stuck open', { kind: 'flasher', ends, resistance_ohm: 0.02 }, { mode: 'stuck-open' }, 'open'],
  [
    'rectifier, third diode shorted',
    { kind: 'rectifier', ac: ['x', 'a'], positive: 'b', negative: 'n', drop_v: 0.7, on_ohm: 0.01 },
    { mode: 'diode-shorted', value: 3 },
    0.01,
  ],
];

describe('the element of each fault mode', () => {
  it.each(table)('%s', (_name, component, fault, wanted, options) => {
    const got = ohms(component, fault, options);
    if (wanted === 'open') expect(got).toBe('open');
    else expect(got).toBeCloseTo(wanted, 9);
  });

  it.each([
    [null, 12.7, 0.018],
    [{ mode: 'discharged' }, 11.2, 0.12],
    [{ mode: 'dead' }, 2, 2],
    [{ mode: 'discharged', value: { emf_v: 11.8, resistance_ohm: 0.05 } }, 11.8, 0.05],
    [{ mode: 'discharged', value: { emf_v: 11.8 } }, 11.8, 0.12],
    [{ mode: 'discharged', value: 10.5 }, 10.5, 0.12],
  ])('battery %j: %d V behind %d Ω', (fault, emf_v, ohm) => {
    const circuit = readCircuit({
      ground: 'b',
      components: [
        { id: 'it', kind: 'battery', positive: 'a', negative: 'b', emf_v: 12.7, resistance_ohm: 0.018 },
        { id: 'load', kind: 'resistor', ends: ['a', 'b'], resistance_ohm: 1 },
      ],
    });
    const faults = fault ? [{ component: 'it', ...fault }] : [];
    expect(solveCircuit(circuit, { faults, removed: ['load'] }).nodes?.a).toBeCloseTo(emf_v, 9);
    expect(solveCircuit(circuit, { faults }).nodes?.a).toBeCloseTo(emf_v / (1 + ohm), 9);
  });

  it('relay contact under power', () => {
    const powered = (faults: Fault[]) => {
      const circuit = readCircuit({
        ground: 'b',
        components: [
          { id: 'it', ...relay, contact: ['c', 'out'] },
          { id: 'bat', kind: 'battery', positive: 'c', negative: 'b', emf_v: 12, resistance_ohm: 0.01 },
          { id: 'load', kind: 'resistor', ends: ['out', 'b'], resistance_ohm: 10 },
        ],
      });
      return solveCircuit(circuit, { faults });
    };
    const drop = (faults: Fault[]) => {
      const { nodes, currents } = powered(faults);
      return ((nodes?.c ?? 0) - (nodes?.out ?? 0)) / (currents?.it?.contact ?? Number.NaN);
    };
    expect(drop([])).toBeCloseTo(0.002, 9);
    expect(drop([{ component: 'it', mode: 'contact-resistive' }])).toBeCloseTo(0.5, 9);
    expect(powered([{ component: 'it', mode: 'contact-open' }]).nodes?.out).toBe(0);
    for (const mode of ['coil-open', 'coil-shorted']) {
      const { contacts, nodes } = powered([{ component: 'it', mode }]);
      expect(contacts).toEqual({ 'it.pulled-in': false });
      expect(nodes?.out).toBe(0);
    }
    // Coil and contact are different things: both faults at once.
    const both = powered([
      { component: 'it', mode: 'coil-open' },
      { component: 'it', mode: 'contact-welded' },
    ]);
    expect(both.nodes?.out).toBeGreaterThan(11.9);
  });
});

describe('the lists of faults', () => {
  it('follow the table of the common kinds', () => {
    const modes = (kind: string) => faultModesOf(kind).map(({ mode }) => mode);
    expect(modes('battery')).toEqual(['discharged', 'dead']);
    expect(modes('wire')).toEqual(['open', 'resistive', 'shorted-to']);
    expect(modes('fuse')).toEqual(['blown']);
    expect(modes('switch')).toEqual(['stuck-open', 'stuck-closed', 'resistive']);
    expect(modes('lamp')).toEqual(['burnt-out']);
    expect(modes('relay')).toEqual([
      'coil-open',
      'coil-shorted',
      'contact-open',
      'contact-resistive',
      'contact-welded',
    ]);
    expect(modes('motor')).toEqual(['open', 'seized', 'worn']);
    expect(modes('resistor')).toEqual(['open', 'resistive']);
    expect(modes('diode')).toEqual(['open', 'shorted']);
    expect(() => faultModesOf('trumpet')).toThrow(/trumpet/);
  });

  it('list every single fault of a circuit, each of which can be solved', () => {
    const circuit = readCircuit({
      ground: 'b',
      components: [
        { id: 'w', ...wire },
        { id: 'm', kind: 'motor', ends, running_ohm: 1 },
      ],
    });
    const faults = listFaults(circuit);
    // No stall_ohm, so "seized" has no standard value.
    expect(faults.map(({ component, mode }) => `${component} ${mode}`)).toEqual([
      'w open',
      'w resistive',
      'w shorted-to',
      'm open',
      'm worn',
    ]);
    for (const fault of faults) expect(solveCircuit(circuit, { faults: [fault] }).chatter).toBe(false);
    expect(() => solveCircuit(circuit, { faults: [{ component: 'm', mode: 'seized' }] })).toThrow(
      /needs a value/,
    );
  });

  it('know every kind', () => expect(listKinds().length).toBeGreaterThanOrEqual(20));
});
