import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { type Fault, readCircuit } from '../../../src/circuit/index.ts';
import { noticedSymptoms } from '../../../src/diagnosis/index.ts';
import { severitiesOfFaults } from '../../../src/diagnosis/wiring/severities.ts';

const circuit = (id: string) =>
  readCircuit(
    parse(readFileSync(new URL(`../../../seed/handbook/circuits/${id}.yaml`, import.meta.url), 'utf8')),
  );
const start = circuit('start-ground-button');
const symptoms = (drawn: typeof start, ...faults: Fault[]) =>
  Object.fromEntries(noticedSymptoms(drawn, faults).map(({ symptomId, share }) => [symptomId, share]));

test('a sound machine shows nothing', () => {
  for (const id of [
    'start-ground-button',
    'charge-half-wave',
    'lamps-common-ground',
    'horn',
    'radiator-fan',
  ]) {
    expect(symptoms(circuit(id))).toEqual({});
  }
});

test('the starter: dead, click, slow, runs on, no power', () => {
  expect(symptoms(start, { component: 'starter-relay', mode: 'coil-open' })).toEqual({ 'start-dead': 1 });
  expect(symptoms(start, { component: 'starter-relay', mode: 'contact-open' })).toEqual({ 'start-click': 1 });
  expect(symptoms(start, { component: 'starter-relay', mode: 'contact-welded' })).toEqual({
    'start-runs-on': 1,
  });
  expect(symptoms(start, { component: 'main-fuse', mode: 'blown' })['no-power']).toBe(1);
  expect(symptoms(start, { component: 'battery', mode: 'discharged' })['start-slow']).toBeGreaterThan(0.3);
});

test('a resistive brake switch starves the relay and dims the brake lamp; a stuck one lights it', () => {
  const shown = symptoms(start, { component: 'front-brake-switch', mode: 'resistive' });
  // By hand at 5 ohm: the coil of 4 ohm and the lamp of 6.9 ohm together get 12.7 × 2.5 / 7.5 = 4.2 V, below the 7.5 V to pull in.
  expect(shown['start-dead']).toBeGreaterThan(0.5);
  expect(shown['brake-lamp-out']).toBeGreaterThan(0.5);
  expect(symptoms(start, { component: 'front-brake-switch', mode: 'stuck-closed' })).toEqual({
    'brake-lamp-stuck': 1,
  });
});

// Common practice, no source: a heavy engine cranks slowly, a stuck button cranks with the lever held, a dead brake lamp is no dead machine.
test('a dragged starter, a stuck button, a brake switch that does not close', () => {
  expect(symptoms(start, { component: 'starter-motor', mode: 'seized', value: 0.06 })).toEqual({
    'start-slow': 1,
  });
  expect(symptoms(start, { component: 'starter-motor', mode: 'seized' })).toEqual({ 'start-click': 1 });
  expect(symptoms(start, { component: 'start-button', mode: 'stuck-closed' })).toEqual({
    'start-runs-on': 1,
  });
  expect(symptoms(start, { component: 'front-brake-switch', mode: 'stuck-open' })).toEqual({
    'start-dead': 1,
    'brake-lamp-out': 1,
  });
});

test('horn, fan and charging', () => {
  expect(symptoms(circuit('horn'), { component: 'horn', mode: 'open' })['horn-dead']).toBe(1);
  const charge = circuit('charge-half-wave');
  expect(symptoms(charge, { component: 'stator', mode: 'open' })['battery-not-charging']).toBe(1);
  expect(symptoms(charge, { component: 'regulator', mode: 'open' }).overcharging).toBe(1);
});

test('only faults of degree stand on several sizes, around the value that is given', () => {
  expect(severitiesOfFaults(start, [{ component: 'main-fuse', mode: 'blown' }])).toEqual([
    { faults: [{ component: 'main-fuse', mode: 'blown' }], weight: 1 },
  ]);
  const sizes = severitiesOfFaults(start, [{ component: 'engine-strap', mode: 'resistive', value: 0.1 }]);
  expect(sizes.map(({ faults }) => faults[0]?.value)).toEqual([
    expect.closeTo(0.01, 9),
    expect.closeTo(0.0316, 6),
    expect.closeTo(0.1, 9),
    expect.closeTo(0.316, 6),
    expect.closeTo(1, 9),
  ]);
  expect(sizes.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  // Never better than the sound part (0.0008 ohm).
  const least = severitiesOfFaults(start, [
    { component: 'engine-strap', mode: 'resistive', value: 0.001 },
  ])[0];
  expect(least?.faults[0]?.value).toBeCloseTo(0.00096, 9);
  const worn = severitiesOfFaults(start, [{ component: 'starter-motor', mode: 'worn' }])[0];
  expect(worn?.faults[0]?.value).toBeCloseTo(1.2 * 0.15, 9);
  const battery = severitiesOfFaults(start, [{ component: 'battery', mode: 'discharged' }]);
  const emf = battery.map(({ faults }) => (faults[0]?.value as { emf_v: number } | undefined)?.emf_v ?? 0);
  expect(emf).toEqual([...emf].sort((a, b) => b - a));
  expect(emf[2]).toBeCloseTo(11.2, 9);
});
