/** Charging, lighting, signals, horn, pump, fan and ignition. Expectations are common practice of the trade, no source. */
import { describe, expect, it } from 'vitest';
import type { SolveOptions } from '../../../src/circuit/index.ts';
import { solveCircuit } from '../../../src/circuit/index.ts';
import { shares, shipped, shows, volts } from './shipped-circuits.ts';

const ohms = (id: string, bench: SolveOptions, lead: string, tip: string) =>
  solveCircuit(shipped(id), { ...bench, instrument: { kind: 'ohmmeter', lead, tip } }).reading;

describe.each(['charge-half-wave', 'charge-three-phase'])('%s', (id) => {
  const circuit = shipped(id);
  const at = (engine: string, more: SolveOptions = {}) =>
    volts(
      circuit,
      { controls: { key: 'on', engine }, ...more },
      'battery-negative-post',
      'battery-positive-post',
    );

  it('charges: 12.8 to 15 V at idle, 13.5 to 15 V at 3000 and 5000', () => {
    expect(at('idling')).toBeGreaterThan(12.8);
    expect(at('idling')).toBeLessThan(15);
    for (const engine of ['3000 1/min', '5000 1/min']) {
      expect(at(engine)).toBeGreaterThan(13.5);
      expect(at(engine)).toBeLessThan(15);
    }
  });

  it('at rest the battery shows its own volts', () => {
    expect(at('stopped')).toBeCloseTo(12.8, 1);
  });

  it('a limiter that does not limit overcharges: above 15 V', () => {
    expect(at('5000 1/min', { faults: [{ component: 'regulator', mode: 'open' }] })).toBeGreaterThan(15);
  });

  it.each([
    ['regulator', 'shorted'],
    ['regulator-output-wire', 'open'],
    ['main-fuse', 'blown'],
  ])('%s %s: the battery is not charged', (component, mode) => {
    expect(at('5000 1/min', { faults: [{ component, mode }] })).toBeLessThan(13);
  });
});

describe('windings', () => {
  const parted = { unplugged: ['stator-plug'] };

  it('a single-phase winding grounded at one end reads to ground, a three-phase one must not', () => {
    const single = ohms(
      'charge-half-wave',
      { ...parted, removed: ['battery'] },
      'engine-case',
      'stator-plug-line',
    );
    expect(single?.ohms).toBeCloseTo(0.6, 6);
    const three = ohms(
      'charge-three-phase',
      { ...parted, removed: ['battery'] },
      'engine-case',
      'stator-plug-1',
    );
    expect(three).toMatchObject({ ohms: null, open: true });
  });

  it('a three-phase winding shorted to the case reads to ground', () => {
    const faults = [{ component: 'stator', mode: 'shorted-to', value: { node: 'engine', ohm: 0.01 } }];
    const reading = ohms(
      'charge-three-phase',
      { ...parted, removed: ['battery'], faults },
      'engine-case',
      'stator-plug-2',
    );
    // Two windings of 0.2 Ω, two leads of 0.01 Ω less the one on the shorted side, and the touch.
    expect(reading?.ohms).toBeCloseTo(0.42, 6);
  });

  it('open-circuit volts of two lines are √3 times one winding (star connection, any textbook)', () => {
    const bench = { ...parted, controls: { engine: '5000 1/min' } };
    const circuit = shipped('charge-three-phase');
    for (const [a, b] of [
      ['1', '2'],
      ['2', '3'],
      ['3', '1'],
    ]) {
      expect(volts(circuit, bench, `stator-plug-${a}`, `stator-plug-${b}`, 'ac')).toBeCloseTo(
        Math.sqrt(3) * 33,
        3,
      );
    }
  });

  it('an open winding silences the two pairs it belongs to', () => {
    const bench = {
      ...parted,
      controls: { engine: '5000 1/min' },
      faults: [{ component: 'stator', mode: 'winding-open', value: 1 }],
    };
    const pair = (a: number, b: number) => {
      const instrument = {
        kind: 'voltmeter',
        mode: 'ac',
        lead: `stator-plug-${a}`,
        tip: `stator-plug-${b}`,
      } as const;
      return Math.abs(
        solveCircuit(shipped('charge-three-phase'), { ...bench, instrument }).reading?.volts ?? 0,
      );
    };
    expect(pair(1, 2)).toBeLessThan(0.01);
    expect(pair(3, 1)).toBeLessThan(0.01);
    expect(pair(2, 3)).toBeCloseTo(Math.sqrt(3) * 33, 3);
  });
});

describe('lighting-ac', () => {
  const circuit = shipped('lighting-ac');
  const lit = { lights: 'on', engine: '5000 1/min' };

  it('12 to 14 V RMS at 5000 with the lights on, dimmer at idle, dark with the engine stopped', () => {
    const at = (engine: string) =>
      volts(circuit, { controls: { ...lit, engine } }, 'frame', 'headlamp-dipped-feed', 'ac');
    expect(at('5000 1/min')).toBeGreaterThan(12);
    expect(at('5000 1/min')).toBeLessThan(14);
    expect(at('idling')).toBeLessThan(at('5000 1/min') - 1);
    expect(shows(circuit, { controls: { ...lit, engine: 'stopped' } })['headlamp-dipped']).toBe('dark');
  });

  it('a regulator that is open on the lighting side overloads the bulbs', () => {
    const faults = [{ component: 'regulator', mode: 'open' }];
    expect(shares(circuit, { controls: lit, faults })['headlamp-dipped']).toBeGreaterThan(1.8);
  });
});

describe('lamps-common-ground', () => {
  const circuit = shipped('lamps-common-ground');
  const rear = [{ component: 'rear-ground-wire', mode: 'open' }];
  const front = [{ component: 'headlamp-ground-wire', mode: 'open' }];
  const driving = { key: 'on', lights: 'on' };

  it('healthy: each switch lights its own lamp and no other', () => {
    const on = (controls: Record<string, string>) =>
      Object.entries(shows(circuit, { controls }))
        .filter(([, word]) => word === 'bright' || word === 'dim')
        .map(([id]) => id)
        .sort();
    expect(on(driving)).toEqual(['headlamp-dipped', 'tail-lamp']);
    expect(on({ ...driving, 'dip-switch': 'main' })).toEqual([
      'headlamp-main',
      'main-beam-lamp',
      'tail-lamp',
    ]);
    expect(on({ key: 'on', 'brake-lever': 'held' })).toEqual(['brake-lamp']);
    expect(on({ key: 'on', 'turn-switch': 'left' })).toEqual(['front-left-signal', 'rear-left-signal']);
  });

  it('healthy: lamps within a tenth of their rated power', () => {
    const all = { ...driving, 'brake-lever': 'held' };
    for (const id of ['headlamp-dipped', 'tail-lamp', 'brake-lamp']) {
      expect(shares(circuit, { controls: all })[id]).toBeGreaterThan(0.9);
      expect(shares(circuit, { controls: all })[id]).toBeLessThan(1.12);
    }
  });

  it('an open rear ground: the brake lights the turn signals, front and rear', () => {
    const words = shows(circuit, { controls: { key: 'on', 'brake-lever': 'held' }, faults: rear });
    expect(words).toMatchObject({
      'brake-lamp': 'dim',
      'tail-lamp': 'dim',
      'rear-left-signal': 'dim',
      'rear-right-signal': 'dim',
      'front-left-signal': 'dim',
      'front-right-signal': 'dim',
    });
  });

  it('an open rear ground: left signal makes the other side and the tail lamp glow', () => {
    const words = shows(circuit, { controls: { key: 'on', 'turn-switch': 'left' }, faults: rear });
    expect(words['front-right-signal']).toBe('dim');
    expect(words['front-left-signal']).toBe('bright');
  });

  it('an open rear ground by hand: 21 W into three ways to ground (Ohm, no source)', () => {
    // Fixed filaments: 6.857 Ω, then 28.8 Ω (two 10 W lamps) twice, and 28.8 Ω + 2.618 Ω (tail lamp, then the dipped
    // beam over the light and dip switches); wires and battery take under 3 %.
    const ways = 1 / (1 / 28.8 + 1 / 28.8 + 1 / (28.8 + 144 / 55));
    const expected = 12.7 * (ways / (144 / 21 + ways));
    const found = volts(
      circuit,
      { controls: { key: 'on', 'brake-lever': 'held' }, faults: rear },
      'frame',
      'rear-lamp-ground',
    );
    expect(Math.abs(found / expected - 1)).toBeLessThan(0.03);
  });

  it('an open headlamp ground: dipped beam lights the main beam telltale', () => {
    expect(shows(circuit, { controls: driving, faults: front })).toMatchObject({
      'main-beam-lamp': 'bright',
      'headlamp-dipped': 'dark',
    });
  });

  it('a resistive rear ground: the tail lamp dims when the brake is pulled', () => {
    const faults = [{ component: 'rear-ground-wire', mode: 'resistive', value: 5 }];
    const tail = (lever: string) =>
      shares(circuit, { controls: { ...driving, 'brake-lever': lever }, faults })['tail-lamp'] ?? 0;
    expect(tail('held')).toBeLessThan(0.6 * tail('released'));
  });
});

describe('turn-signals', () => {
  const circuit = shipped('turn-signals');
  const left = { key: 'on', 'turn-switch': 'left' };

  it('flashes; the telltale lights through the other side, which stays dark', () => {
    expect(shows(circuit, { controls: left })).toMatchObject({
      flasher: 'flashes',
      'front-left-signal': 'bright',
      'rear-left-signal': 'bright',
      'front-right-signal': 'dark',
      'turn-telltale': 'bright',
    });
    expect(shows(circuit, { controls: { ...left, 'flasher-phase': 'dark' } })['front-left-signal']).toBe(
      'dark',
    );
  });

  it.each([
    ['front-left-signal', 'burnt-out'],
    ['rear-left-ground-wire', 'open'],
    ['rear-left-wire', 'open'],
  ])('%s %s: flashes fast', (component, mode) => {
    expect(shows(circuit, { controls: left, faults: [{ component, mode }] }).flasher).toBe('flashes-fast');
  });

  it('a flasher that stays lit or dark', () => {
    const word = (mode: string) =>
      shows(circuit, { controls: left, faults: [{ component: 'flasher', mode }] }).flasher;
    expect(word('stuck-closed')).toBe('stays-lit');
    expect(word('stuck-open')).toBe('stays-dark');
  });
});

describe('horn, pump, fan', () => {
  it('the horn is loud, weak with a bad button, silent with a broken wire', () => {
    const circuit = shipped('horn');
    const word = (faults: SolveOptions['faults'] = []) =>
      shows(circuit, { controls: { key: 'on', horn: 'pressed' }, faults }).horn;
    expect(word()).toBe('loud');
    expect(word([{ component: 'horn-button', mode: 'resistive', value: 4 }])).toBe('weak');
    expect(word([{ component: 'horn-wire', mode: 'open' }])).toBe('silent');
  });

  it('the fuel pump turns while the unit asks for it, and not with the stop switch off', () => {
    const circuit = shipped('fuel-pump');
    const word = (controls: Record<string, string>) => shows(circuit, { controls })['fuel-pump'];
    expect(word({ key: 'on', engine: 'priming' })).toBe('normal');
    expect(word({ key: 'on', engine: 'stopped' })).toBe('still');
    expect(word({ key: 'on', engine: 'running', 'stop-switch': 'stop' })).toBe('still');
  });

  it('a pump relay taken out of its socket: 12 V at 30, nothing at 87', () => {
    const circuit = shipped('fuel-pump');
    const bench = { controls: { key: 'on', engine: 'priming' }, unplugged: ['relay-plug'] };
    expect(volts(circuit, bench, 'frame', 'relay-contact-input')).toBeGreaterThan(12.4);
    expect(volts(circuit, bench, 'frame', 'relay-contact-output')).toBeCloseTo(0, 6);
  });

  it('the fan runs hot only; a switch stuck closed runs it cold, one stuck open never', () => {
    const circuit = shipped('radiator-fan');
    const word = (coolant: string, faults: SolveOptions['faults'] = []) =>
      shows(circuit, { controls: { key: 'on', coolant }, faults })['radiator-fan'];
    expect(word('hot')).toBe('normal');
    expect(word('cold')).toBe('still');
    expect(word('cold', [{ component: 'thermo-switch', mode: 'stuck-closed' }])).toBe('runs-on');
    expect(word('hot', [{ component: 'thermo-switch', mode: 'stuck-open' }])).toBe('still');
  });
});

describe('ignition-cdi', () => {
  const circuit = shipped('ignition-cdi');
  const cranking = { key: 'on', engine: 'cranking' };
  const spark = (controls: Record<string, string>, faults: SolveOptions['faults'] = []) =>
    shows(circuit, { controls, faults })['discharge-unit'];

  it('sparks while cranking; key, stop switch and side stand each stop it', () => {
    expect(spark(cranking)).toBe('sparks');
    expect(spark({ ...cranking, key: 'off' })).toBe('no-spark');
    expect(spark({ ...cranking, 'stop-switch': 'stop' })).toBe('no-spark');
    expect(spark({ ...cranking, 'side-stand': 'down' })).toBe('no-spark');
    expect(spark({ key: 'on', engine: 'stopped' })).toBe('no-spark');
  });

  it('a stop wire rubbed through to the frame kills the spark; parted at the unit it comes back', () => {
    const faults = [
      { component: 'stop-switch-wire', mode: 'shorted-to', value: { node: 'frame', ohm: 0.01 } },
    ];
    expect(spark(cranking, faults)).toBe('no-spark');
    expect(spark(cranking, [...faults, { component: 'stop-wire', mode: 'open' }])).toBe('sparks');
  });

  it('a broken stop wire cannot be stopped with the key', () => {
    expect(spark({ key: 'off', engine: 'idling' }, [{ component: 'stop-wire', mode: 'open' }])).toBe(
      'sparks',
    );
  });

  it('coils measured at the parted plug', () => {
    const bench = { unplugged: ['stator-plug'] };
    const coil = ohms(
      'ignition-cdi',
      { unplugged: ['unit-plug'] },
      'ignition-coil-ground',
      'ignition-coil-primary',
    );
    expect(coil?.ohms).toBeCloseTo(0.4, 6);
    expect(ohms('ignition-cdi', bench, 'engine-case', 'source-coil-wire')?.ohms).toBeCloseTo(400, 6);
    expect(ohms('ignition-cdi', bench, 'engine-case', 'pickup-coil-wire')?.ohms).toBeCloseTo(130, 6);
  });
});
