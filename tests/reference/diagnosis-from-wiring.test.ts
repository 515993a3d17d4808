import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Probe } from '../../src/book/index.ts';
import { readCircuit } from '../../src/circuit/index.ts';
import { nextChecks, noticedSymptoms, rankCauses, wiringLikelihood } from '../../src/diagnosis/index.ts';
import type { Problem } from '../../src/problem.ts';
import type { CauseId, CheckId, CircuitId, SymptomId } from '../../src/terms.ts';
import { book, cause, check, family, model, symptom } from '../unit/diagnosis/tiny-book.ts';

/**
 * The usual start circuit of a small scooter: relay coil fed through the brake switch, grounded through the start button.
 * What its faults look like is common practice of the trade, no source; the circuit is the one shipped with the handbook.
 */
const circuitId = 'start-ground-button' as CircuitId;
const text = readFileSync(new URL(`../../seed/handbook/circuits/${circuitId}.yaml`, import.meta.url), 'utf8');
const circuit = readCircuit(parse(text));
const circuits = new Map([[circuitId, circuit]]);

const mapped = (id: string, component: string, mode: string, value?: Record<string, number>) =>
  cause(id, {
    componentId: component,
    wiring: { [circuitId]: { faults: [{ component, mode, ...(value ? { value } : {}) }] } } as never,
  });
const causes = [
  mapped('battery-discharged', 'battery', 'discharged'),
  mapped('engine-ground-resistive', 'engine-strap', 'resistive', { ohm: 0.08 }),
  mapped('starter-worn', 'starter-motor', 'worn'),
  mapped('starter-open', 'starter-motor', 'open'),
  mapped('relay-coil-open', 'starter-relay', 'coil-open'),
  mapped('relay-contact-open', 'starter-relay', 'contact-open'),
  mapped('brake-switch-open', 'front-brake-switch', 'stuck-open'),
  mapped('brake-switch-resistive', 'front-brake-switch', 'resistive'),
  mapped('relay-supply-wire-open', 'relay-supply-wire', 'open'),
  mapped('button-open', 'start-button', 'stuck-open'),
  mapped('button-wire-open', 'relay-ground-wire', 'open'),
  cause('engine-stiff', { wiring: { [circuitId]: { state: 'healthy' } } as never }),
];

const starting = { key: 'on', 'brake-lever': 'held', 'start-button': 'pressed' };
const probe = (
  kind: 'test-lamp' | 'voltmeter',
  lead: string,
  tip: string,
  controls: Record<string, string>,
  unplugged: string[] = [],
): Probe => ({ circuitId, instrument: { kind, lead, tip }, controls, unplugged, removed: [] });
const lampOutcomes = { bright: 0.97, dim: 0.02, dark: 0.01 };
const volts = (limits: readonly number[]) => ({
  quantity: { name: 'voltage', unit: 'V', possible: { low: -1, high: 20 } },
  outcomes: [...limits, null].map((high, place) => ({
    id: `v${place}`,
    title: `up to ${high}`,
    means: '',
    healthy: 1 / (limits.length + 1),
    range: { low: place === 0 ? null : (limits[place - 1] as number), high },
  })),
});
const checks = [
  check(
    'brake-lamp',
    lampOutcomes,
    {},
    {
      probes: [
        probe('test-lamp', 'battery-negative-post', 'brake-lamp-feed', { key: 'on', 'brake-lever': 'held' }),
      ],
    },
  ),
  check(
    'output-stud-lamp',
    lampOutcomes,
    {},
    { probes: [probe('test-lamp', 'battery-negative-post', 'relay-output-stud', starting)] },
  ),
  check(
    'supply-pin-lamp',
    lampOutcomes,
    {},
    {
      probes: [
        probe('test-lamp', 'battery-negative-post', 'relay-plug-supply-pin', starting, ['relay-plug']),
      ],
    },
  ),
  check(
    'button-pin-lamp',
    lampOutcomes,
    {},
    {
      probes: [
        probe('test-lamp', 'battery-positive-post', 'relay-plug-ground-pin', starting, ['relay-plug']),
      ],
    },
  ),
  check(
    'coil-volts',
    {},
    {},
    { ...volts([1, 10]), probes: [probe('voltmeter', 'relay-coil-ground', 'relay-coil-supply', starting)] },
  ),
  check(
    'ground-drop',
    {},
    {},
    { ...volts([0.3, 1]), probes: [probe('voltmeter', 'battery-negative-post', 'engine-case', starting)] },
  ),
  check(
    'battery-cranking',
    {},
    {},
    {
      ...volts([9.6, 11]),
      probes: [probe('voltmeter', 'battery-negative-post', 'battery-positive-post', starting)],
    },
  ),
];
const pellan = { ...model('pellan-125', 'air-125'), circuitIds: [circuitId] };
const even = Object.fromEntries(causes.map((one) => [one.id, 95 / causes.length]));
const tiny = {
  ...book({
    symptoms: [symptom('start', even, 5)],
    causes,
    checks,
    models: [pellan],
    families: [family('air-125')],
  }),
  circuits: new Map([[circuitId, circuit]]),
};
const wiring = wiringLikelihood(tiny, circuits, pellan);
const rank = (readings: Parameters<typeof rankCauses>[0]['readings']) =>
  rankCauses({ book: tiny, symptomId: 'start' as SymptomId, model: pellan, tally: [], readings, wiring });
const share = (ranking: ReturnType<typeof rank>, ...ids: string[]) =>
  ranking.causes.filter((one) => ids.includes(one.causeId)).reduce((sum, one) => sum + one.probability, 0);
const chances = (checkId: string, causeId: string | null) => {
  const found = wiring?.chancesFor(checkId as CheckId, causeId as CauseId | null);
  if (!found) throw new Error(`the wiring says nothing about ${checkId}`);
  return found;
};

test('every check of the circuit has chances under every mapped cause, summing to 1', () => {
  for (const { id } of checks) {
    for (const causeId of [null, ...causes.map((one) => one.id)]) {
      const sum = chances(id, causeId).reduce((total, one) => total + one, 0);
      expect(sum).toBeCloseTo(1, 9);
    }
  }
});

test('cranking slowly: battery and engine ground before the starter', () => {
  const slow = (fault: { component: string; mode: string; value?: number }[]) =>
    noticedSymptoms(circuit, fault).find((one) => one.symptomId === 'start-slow')?.share ?? 0;
  expect(slow([{ component: 'battery', mode: 'discharged' }])).toBeGreaterThan(0.3);
  expect(slow([{ component: 'engine-strap', mode: 'resistive', value: 0.08 }])).toBeGreaterThan(0.3);
  // Starters seldom fade and mostly fail outright: an open one stands still with the relay in.
  expect(
    noticedSymptoms(circuit, [{ component: 'starter-motor', mode: 'open' }]).map((one) => one.symptomId),
  ).toContain('start-click');
});

test('no brake lamp with the lever held puts the brake switch first', () => {
  const ranking = rank([{ checkId: 'brake-lamp', outcome: 'dark' }]);
  expect(ranking.causes[0]?.causeId).toBe('brake-switch-open');
});

test('lamp bright at the output stud while starting points past the relay', () => {
  const ranking = rank([{ checkId: 'output-stud-lamp', outcome: 'bright' }]);
  expect(share(ranking, 'starter-open', 'starter-worn')).toBeGreaterThan(
    share(ranking, 'relay-coil-open', 'relay-contact-open', 'button-open'),
  );
  expect(share(ranking, 'relay-contact-open')).toBeLessThan(0.02);
});

test('plug parted: no lamp at the supply pin is the supply side, none at the button pin the button or its wire', () => {
  const supply = rank([{ checkId: 'supply-pin-lamp', outcome: 'dark' }]);
  expect(share(supply, 'relay-supply-wire-open', 'brake-switch-open')).toBeGreaterThan(0.6);
  expect(
    share(
      rank([
        { checkId: 'supply-pin-lamp', outcome: 'dark' },
        { checkId: 'brake-lamp', outcome: 'bright' },
      ]),
      'relay-supply-wire-open',
    ),
  ).toBeGreaterThan(0.5);
  const button = rank([
    { checkId: 'supply-pin-lamp', outcome: 'bright' },
    { checkId: 'button-pin-lamp', outcome: 'dark' },
  ]);
  expect(share(button, 'button-open', 'button-wire-open')).toBeGreaterThan(0.7);
});

test('both pins lit and nothing clicks: relay first, a resistive switch not cleared; volts across the coil decide', () => {
  const lit = [
    { checkId: 'supply-pin-lamp', outcome: 'bright' },
    { checkId: 'button-pin-lamp', outcome: 'bright' },
    { checkId: 'output-stud-lamp', outcome: 'dark' },
  ];
  const both = rank(lit);
  expect(['relay-coil-open', 'relay-contact-open']).toContain(both.causes[0]?.causeId);
  // By hand: 48 ohm of lamp behind 5 ohm get 12.7 × 48 / 53 = 11.5 V, bright; the coil of 4 ohm gets 12.7 × 4 / 9 = 5.6 V.
  expect(share(both, 'brake-switch-resistive')).toBeGreaterThan(0.03);
  const starved = rank([...lit, { checkId: 'coil-volts', value: 5.6 }]);
  expect(starved.causes[0]?.causeId).toBe('brake-switch-resistive');
  const full = rank([...lit, { checkId: 'coil-volts', value: 12.4 }]);
  expect(share(full, 'relay-coil-open', 'relay-contact-open')).toBeGreaterThan(0.8);
  expect(share(full, 'brake-switch-resistive')).toBeLessThan(0.02);
});

test('a number counts as a number: volts that differ within one outcome give different rankings', () => {
  const weak = rank([{ checkId: 'battery-cranking', value: 8.2 }]);
  const strong = rank([{ checkId: 'battery-cranking', value: 9.5 }]);
  expect(weak.causes.map((one) => one.probability)).not.toEqual(strong.causes.map((one) => one.probability));
  expect(weak.causes[0]?.causeId).toBe('battery-discharged');
});

test('a cause that the wiring takes as healthy reads as the healthy machine; an unlisted one is never ruled out', () => {
  for (const { id } of checks) expect(chances(id, 'engine-stiff')).toEqual(chances(id, null));
  const odd = rank([{ checkId: 'coil-volts', value: 18.9 }]);
  expect(odd.unlisted).toBeGreaterThan(0.04);
});

test('a probe anywhere in the circuit is evidence too', () => {
  const readings = [
    {
      circuitId,
      instrument: { kind: 'voltmeter', lead: 'brake-switch-output', tip: 'brake-switch-input' } as const,
      controls: starting,
      value: '6.9 V',
    },
  ];
  expect(rank(readings).causes[0]?.causeId).toBe('brake-switch-resistive');
  const lamp = {
    circuitId,
    instrument: { kind: 'test-lamp', lead: 'frame', tip: 'fuse-key-end' } as const,
    lamp: 'bright' as const,
  };
  expect(rank([lamp]).causes.length).toBe(causes.length);
});

test('the plan says what this machine would show under each suspect', () => {
  const plan = nextChecks({
    book: tiny,
    symptomId: 'start' as SymptomId,
    model: pellan,
    tally: [],
    readings: [],
    wiring,
    laborPerMinute: 1,
    partPrice: () => null,
  });
  const view = plan.checks.find((one) => one.checkId === 'coil-volts');
  expect(view?.probe?.circuitId).toBe(circuitId);
  const shows = view?.expected?.find((one) => one.causeId === 'button-open')?.shows;
  expect(shows).toMatch(/^0 V$/);
});

test('a probe where there is nothing to probe is refused with its field', () => {
  const instrument = { kind: 'voltmeter', lead: 'frame', tip: 'nowhere' } as const;
  expect(() => rank([{ circuitId, instrument, value: 12 }])).toThrow(/nowhere/);
  try {
    rank([{ circuitId, instrument, value: 12 }]);
  } catch (error) {
    expect((error as Problem).code).toBe('bad-input');
    expect((error as Problem).where?.field).toBe('readings[0].instrument.tip');
  }
  const elsewhere = { circuitId: 'horn', instrument: { ...instrument, tip: 'frame' }, value: 12 };
  expect(() => rank([elsewhere])).toThrow(/no circuit “horn”/);
});

test('a coil read hot counts at 20 °C when its spec says so', () => {
  const ranges = [
    { id: 'low', title: '', means: '', healthy: 0.02, range: { low: null, high: 3 } },
    { id: 'good', title: '', means: '', healthy: 0.95, range: { low: 3, high: 4.5 } },
    { id: 'high', title: '', means: '', healthy: 0.03, range: { low: 4.5, high: null } },
  ];
  const coil = check(
    'coil-ohms',
    {},
    { 'relay-coil-open': { high: 0.95 } },
    {
      outcomes: ranges,
      quantity: { name: 'resistance', unit: 'ohm', possible: { low: 0, high: 1e7 } },
      specId: 'coil' as never,
    },
  );
  const spec = { id: 'coil', title: 'Coil', unit: 'ohm', conditions: '20 °C, plug parted' };
  const other = {
    ...tiny,
    checks: new Map(tiny.checks).set(coil.id, coil),
    specs: new Map([['coil', spec]]) as never,
  };
  const read = (conditions?: { temperature_c: number }) =>
    rankCauses({
      book: other,
      symptomId: 'start' as SymptomId,
      model: pellan,
      tally: [],
      readings: [{ checkId: 'coil-ohms', value: 4.629, conditions }],
    });
  // 4.629 ohm at 60 °C are 4.00 ohm at 20 °C (IEC 60028): healthy.
  expect(share(read(), 'relay-coil-open')).toBeGreaterThan(0.5);
  expect(share(read({ temperature_c: 60 }), 'relay-coil-open')).toBeLessThan(0.05);
});

test('two faults at once are solved together when no single one explains the readings', () => {
  const readings = [
    { checkId: 'brake-lamp', outcome: 'dark' },
    { checkId: 'supply-pin-lamp', outcome: 'dark' },
    { checkId: 'button-pin-lamp', outcome: 'dark' },
  ];
  const ranking = rank(readings);
  expect(ranking.contradiction?.why).toMatch(/No single cause/);
  const [pair] = ranking.pairs ?? [];
  expect(pair?.causeIds.some((id) => id === 'brake-switch-open')).toBe(true);
  expect(pair?.causeIds.some((id) => id === 'button-open' || id === 'button-wire-open')).toBe(true);
});
