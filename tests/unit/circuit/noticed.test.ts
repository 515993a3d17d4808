import { describe, expect, it } from 'vitest';
import { type Bench, noticed, readCircuit } from '../../../src/circuit/index.ts';
import { HORN_ON, hornCircuit } from './horn-circuit.ts';
import { STARTING, startCircuit } from './start-circuit.ts';

const start = readCircuit(startCircuit());
const horn = readCircuit({
  ...hornCircuit(),
  components: hornCircuit().components.map((c) => (c.id === 'horn' ? { ...c, role: 'horn' } : c)),
});

function words(circuit: typeof start, bench: Bench): Record<string, string> {
  return Object.fromEntries(noticed(circuit, bench).signs.map(({ component, word }) => [component, word]));
}

describe('noticed', () => {
  it('a healthy start', () => {
    expect(words(start, { controls: STARTING })).toEqual({
      'brake-lamp': 'bright',
      relay: 'in',
      starter: 'normal',
    });
    expect(words(start, {})).toEqual({ 'brake-lamp': 'dark', relay: 'out', starter: 'still' });
  });

  it('a starter that runs on with a welded contact, and the normal word beside it', () => {
    const { signs } = noticed(start, { faults: [{ component: 'relay', mode: 'contact-welded' }] });
    expect(signs.find((s) => s.component === 'starter')).toMatchObject({
      word: 'runs-on',
      role: 'starter',
      healthy: { word: 'still' },
    });
  });

  it('a slow starter behind a resistive contact and with a worn motor; a still one when seized', () => {
    const bench = (mode: string, component: string, value?: number) => ({
      controls: STARTING,
      faults: [{ component, mode, value }],
    });
    expect(words(start, bench('contact-resistive', 'relay', 0.1)).starter).toBe('slow');
    expect(words(start, bench('worn', 'starter')).starter).toBe('slow');
    const seized = noticed(start, bench('seized', 'starter')).signs;
    expect(seized.find((s) => s.component === 'starter')).toMatchObject({ word: 'still', fraction: 0 });
  });

  it('a relay that chatters on a weak battery', () => {
    const weak = { component: 'battery', mode: 'discharged', value: { emf_v: 11, resistance_ohm: 0.8 } };
    const result = noticed(start, { controls: STARTING, faults: [weak] });
    expect(result).toMatchObject({ chatter: true, chattering: ['relay'] });
    expect(result.signs.find((s) => s.component === 'relay')?.word).toBe('chatter');
  });

  it('a horn that is loud, weak, silent', () => {
    expect(words(horn, { controls: HORN_ON }).horn).toBe('loud');
    expect(
      words(horn, { controls: HORN_ON, faults: [{ component: 'w-horn', mode: 'resistive' }] }).horn,
    ).toBe('weak');
    expect(words(horn, { controls: HORN_ON, faults: [{ component: 'horn', mode: 'open' }] }).horn).toBe(
      'silent',
    );
    expect(words(horn, { controls: HORN_ON, removed: ['horn'] }).horn).toBe('silent');
  });

  it('a burnt-out lamp is dark at full voltage', () => {
    const burnt = noticed(start, {
      controls: STARTING,
      faults: [{ component: 'brake-lamp', mode: 'burnt-out' }],
    });
    expect(burnt.signs.find((s) => s.component === 'brake-lamp')).toMatchObject({
      word: 'dark',
      fraction: 0,
    });
  });
});

describe('back-feeding through a bad common ground', () => {
  // Tail and brake filament in one housing with one ground wire, the front position lamp grounded elsewhere.
  const lamps = readCircuit({
    ground: 'gnd',
    controls: {
      light: { positions: ['off', 'on'], rest: 'off' },
      brake: { positions: ['free', 'held'], rest: 'free' },
    },
    components: [
      {
        id: 'battery',
        kind: 'battery',
        positive: 'plus',
        negative: 'gnd',
        emf_v: 12.7,
        resistance_ohm: 0.02,
      },
      {
        id: 'light-sw',
        kind: 'switch',
        ends: ['plus', 'light'],
        control: 'light',
        closed_at: ['on'],
        resistance_ohm: 0.03,
      },
      {
        id: 'brake-sw',
        kind: 'switch',
        ends: ['plus', 'brake'],
        control: 'brake',
        closed_at: ['held'],
        resistance_ohm: 0.03,
      },
      { id: 'tail', kind: 'lamp', ends: ['light', 'rear'], rated_v: 12, rated_w: 5 },
      { id: 'brake-lamp', kind: 'lamp', ends: ['brake', 'rear'], rated_v: 12, rated_w: 21 },
      { id: 'position', kind: 'lamp', ends: ['light', 'gnd'], rated_v: 12, rated_w: 5 },
      { id: 'rear-ground', kind: 'wire', ends: ['rear', 'gnd'], resistance_ohm: 0.02 },
    ],
  });

  it('lights the wrong lamps: brake current goes through the tail lamp and the front position lamp', () => {
    const faults = [{ component: 'rear-ground', mode: 'open' }];
    expect(words(lamps, { controls: { brake: 'held' } })).toEqual({
      tail: 'dark',
      'brake-lamp': 'bright',
      position: 'dark',
    });
    const bad = words(lamps, { controls: { brake: 'held' }, faults });
    expect(bad['brake-lamp']).toBe('dark');
    expect(bad.tail).toBe('dim');
    expect(bad.position).toBe('dim');
  });
});
