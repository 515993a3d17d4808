/**
 * The three start circuits. Limits: 9.6 V while cranking is that of the battery load test (tests/reference/data/battery-load-test.csv,
 * 21 °C and above); the other expectations are common practice of the trade, no source.
 */
import { describe, expect, it } from 'vitest';
import type { Fault } from '../../../src/circuit/index.ts';
import { noticed, solveCircuit } from '../../../src/circuit/index.ts';
import { everyStand, shipped, shows, volts } from './shipped-circuits.ts';

const held = { key: 'on', 'brake-lever': 'held', 'start-button': 'pressed', lights: 'on' };
const machines = [
  { id: 'start-ground-button', pressed: held },
  { id: 'start-supply-button', pressed: { ...held, 'side-stand': 'up' } },
  { id: 'start-control-unit', pressed: { ...held, 'side-stand': 'up' } },
] as const;

describe.each(machines)('$id', ({ id, pressed }) => {
  const circuit = shipped(id);
  const ready = { ...pressed, 'start-button': 'released' };
  const under = (component: string, mode: string, value?: Fault['value']) => ({
    controls: pressed,
    faults: [{ component, mode, ...(value === undefined ? {} : { value }) }],
  });

  it('healthy: turns at normal speed, battery between 10 and 11.5 V, coil at 9.5 V or more', () => {
    expect(shows(circuit, { controls: pressed })).toMatchObject({
      'starter-motor': 'normal',
      'starter-relay': 'in',
      'brake-lamp': 'bright',
    });
    const cranking = volts(circuit, { controls: pressed }, 'battery-negative-post', 'battery-positive-post');
    expect(cranking).toBeGreaterThan(10);
    expect(cranking).toBeLessThan(11.5);
    expect(volts(circuit, { controls: pressed }, 'relay-coil-ground', 'relay-coil-supply')).toBeGreaterThan(
      9.5,
    );
  });

  it('healthy: 0.5 V at most lost on the way to the starter and as little on the way back', () => {
    const bench = { controls: pressed };
    expect(volts(circuit, bench, 'starter-stud', 'battery-positive-post')).toBeLessThan(0.5);
    expect(volts(circuit, bench, 'battery-negative-post', 'starter-case')).toBeLessThan(0.5);
    expect(volts(circuit, bench, 'relay-output-stud', 'relay-battery-stud')).toBeLessThan(0.2);
  });

  it('healthy: the relay pulls in exactly where everything it asks for is so', () => {
    for (const controls of everyStand(circuit)) {
      const {
        key,
        'stop-switch': stop = 'run',
        'side-stand': stand = 'up',
        'start-button': button,
      } = controls;
      const asksBrake = id !== 'start-supply-button';
      const isMeant =
        key === 'on' &&
        stop === 'run' &&
        stand === 'up' &&
        button === 'pressed' &&
        (!asksBrake || controls['brake-lever'] !== 'released');
      expect(shows(circuit, { controls })['starter-relay'], JSON.stringify(controls)).toBe(
        isMeant ? 'in' : 'out',
      );
    }
  });

  it.each([
    ['relay-supply-wire', 'open'],
    ['relay-ground-wire', 'open'],
    ['starter-relay', 'coil-open'],
    ['start-button', 'stuck-open'],
    ['key-switch', 'stuck-open'],
    ['main-fuse', 'blown'],
  ])('%s %s: nothing turns, no click', (component, mode) => {
    expect(shows(circuit, under(component, mode))).toMatchObject({
      'starter-relay': 'out',
      'starter-motor': 'still',
    });
  });

  it.each([
    ['starter-relay', 'contact-open'],
    ['starter-motor', 'open'],
    ['starter-cable', 'open'],
    ['starter-joint', 'open'],
  ])('%s %s: the relay clicks, the starter stands still', (component, mode) => {
    expect(shows(circuit, under(component, mode))).toMatchObject({
      'starter-relay': 'in',
      'starter-motor': 'still',
    });
  });

  it('a seized motor pulls the battery far down and stands still', () => {
    const bench = under('starter-motor', 'seized');
    expect(shows(circuit, bench)['starter-motor']).toBe('still');
    const well = volts(circuit, { controls: pressed }, 'battery-negative-post', 'battery-positive-post');
    expect(volts(circuit, bench, 'battery-negative-post', 'battery-positive-post')).toBeLessThan(well - 2);
  });

  it.each([
    ['battery-terminal', 0.1],
    ['starter-joint', 0.1],
    ['engine-strap', 0.1],
  ])('%s at 0.1 Ω: turns slowly', (component, ohm) => {
    expect(shows(circuit, under(component, 'resistive', ohm))['starter-motor']).toBe('slow');
  });

  it('a bad engine strap shows between starter case and battery negative, and nowhere on the supply side', () => {
    const bench = under('engine-strap', 'resistive', 0.1);
    expect(volts(circuit, bench, 'battery-negative-post', 'starter-case')).toBeGreaterThan(2);
    expect(volts(circuit, bench, 'starter-stud', 'battery-positive-post')).toBeLessThan(0.5);
  });

  it('a discharged battery turns slowly; one that falls further under load chatters', () => {
    const slow = { controls: pressed, faults: [{ component: 'battery', mode: 'discharged' }] };
    const words = shows(circuit, slow)['starter-motor'];
    expect(solveCircuit(circuit, slow).chatter || words === 'slow').toBe(true);
    const flat = {
      controls: { ...pressed, lights: 'off' },
      faults: [{ component: 'battery', mode: 'discharged', value: { emf_v: 12, resistance_ohm: 0.5 } }],
    };
    expect(noticed(circuit, flat)).toMatchObject({
      chatter: true,
      chattering: expect.arrayContaining(['starter-relay']),
    });
  });

  it('a welded contact runs on with the button released', () => {
    const faults = [{ component: 'starter-relay', mode: 'contact-welded' }];
    expect(shows(circuit, { controls: ready, faults })['starter-motor']).toBe('runs-on');
    expect(shows(circuit, { controls: { ...ready, key: 'off' }, faults })['starter-motor']).toBe('runs-on');
  });

  it('a resistive relay plug starves the coil, and a test lamp at the parted plug would not tell', () => {
    const faults = [{ component: 'relay-supply-wire', mode: 'resistive', value: 5 }];
    expect(shows(circuit, { controls: pressed, faults })['starter-relay']).toBe('out');
    const instrument = {
      kind: 'test-lamp',
      lead: 'battery-negative-post',
      tip: 'relay-plug-supply-pin',
    } as const;
    const { reading } = solveCircuit(circuit, {
      controls: pressed,
      faults,
      unplugged: ['relay-plug'],
      instrument,
    });
    expect(reading?.lamp).toBe('bright');
  });
});

describe('start-ground-button', () => {
  const circuit = shipped('start-ground-button');

  it('a resistive brake switch: brake lamp dim, no click; the other lever starts', () => {
    const faults = [{ component: 'front-brake-switch', mode: 'resistive' }];
    expect(shows(circuit, { controls: held, faults })).toMatchObject({
      'brake-lamp': 'dim',
      'starter-relay': 'out',
    });
    const other = { ...held, 'brake-lever': 'other held' };
    expect(shows(circuit, { controls: other, faults })).toMatchObject({ 'starter-motor': 'normal' });
  });

  it('a relay supply wire that is open leaves the brake lamp; an open feed takes it too', () => {
    const lamp = (component: string) =>
      shows(circuit, { controls: held, faults: [{ component, mode: 'open' }] })['brake-lamp'];
    expect(lamp('relay-supply-wire')).toBe('bright');
    expect(lamp('brake-feed-wire')).toBe('dark');
  });

  it('a button wire rubbed through to ground starts at the lever alone', () => {
    const faults = [
      { component: 'relay-ground-wire', mode: 'shorted-to', value: { node: 'frame', ohm: 0.01 } },
    ];
    const controls = { ...held, 'start-button': 'released' };
    expect(shows(circuit, { controls, faults })['starter-motor']).toBe('runs-on');
  });
});

it('start-control-unit: no filament lamp at the pins of the unit', () => {
  const instrument = { kind: 'test-lamp', lead: 'frame', tip: 'unit-start-input' } as const;
  expect(() => solveCircuit(shipped('start-control-unit'), { instrument })).toThrow(/electronic/);
});
