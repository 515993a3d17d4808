/**
 * A test lamp shows presence, not capacity: a resistive brake switch lights it on the parted plug and still starves
 * the relay coil. Nothing of this is typed in; it must come out of the wiring.
 */
import { describe, expect, it } from 'vitest';
import { noticed, readCircuit, solveCircuit } from '../../../src/circuit/index.ts';
import { STARTING, startCircuit } from './start-circuit.ts';

const circuit = readCircuit(startCircuit());
const resistive = (value: number) => [{ component: 'brake-sw', mode: 'resistive', value }];
/** The plug is parted by taking the relay off; the brake lamp is out too, so that only the lamp draws current. */
const parted = { controls: STARTING, removed: ['relay', 'brake-lamp'] };
const lamp = { kind: 'test-lamp', tip: 'coil-feed-pin', lead: 'bat-neg' } as const;
const meter = { kind: 'voltmeter', tip: 'coil-feed-pin', lead: 'coil-ground-pin' } as const;

describe('a resistive brake switch', () => {
  it.each([5, 7, 10])('of %d Ω lights a 12 V 3 W test lamp and starves a 4 Ω coil', (ohm) => {
    const faults = resistive(ohm);
    const { reading } = solveCircuit(circuit, { ...parted, faults, instrument: lamp });
    expect(reading?.lamp).toBe('bright');
    // By hand: 12.7 V through the lamp's 48 Ω and what lies before it.
    expect(reading?.volts).toBeCloseTo((12.7 * 48) / (48 + 0.018 + 0.006 + 0.02 + ohm), 9);

    const plugged = solveCircuit(circuit, { controls: STARTING, faults, instrument: meter });
    expect(plugged.contacts).toEqual({ 'relay.pulled-in': false });
    expect(plugged.reading?.volts).toBeLessThan(7);
    expect(solveCircuit(circuit, { controls: STARTING, instrument: meter }).contacts).toEqual({
      'relay.pulled-in': true,
    });
  });

  it('is told from an open coil by volts across the coil with the plug on', () => {
    const starved = solveCircuit(circuit, { controls: STARTING, faults: resistive(5), instrument: meter });
    const open = solveCircuit(circuit, {
      controls: STARTING,
      faults: [{ component: 'relay', mode: 'coil-open' }],
      instrument: meter,
    });
    expect(starved.reading?.volts).toBeLessThan(5);
    expect(open.reading?.volts).toBeGreaterThan(12);
    // While two lit lamps on the parted plug do not tell them apart.
    for (const faults of [resistive(5), [{ component: 'relay', mode: 'coil-open' }]]) {
      expect(solveCircuit(circuit, { ...parted, faults, instrument: lamp }).reading?.lamp).toBe('bright');
      const ground = { kind: 'test-lamp', tip: 'bat-pos', lead: 'coil-ground-pin' } as const;
      expect(solveCircuit(circuit, { ...parted, faults, instrument: ground }).reading?.lamp).toBe('bright');
    }
  });

  it('shows the rider a dim brake lamp and a starter that stands still', () => {
    const { signs } = noticed(circuit, { controls: STARTING, faults: resistive(5) });
    const word = (id: string) => signs.find(({ component }) => component === id)?.word;
    expect(word('starter')).toBe('still');
    expect(word('relay')).toBe('out');
    expect(word('brake-lamp')).toBe('dim');
  });
});
