import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { type Circuit, readCircuit } from '../../src/circuit/index.ts';
import { type ReadingInput, rankCauses, wiringLikelihood } from '../../src/diagnosis/index.ts';
import { buildBook, readHandbook } from '../../src/handbook/index.ts';
import type { CauseId, CheckId, CircuitId, SymptomId } from '../../src/terms.ts';

/**
 * What any mechanic expects of the usual start circuit (relay coil fed through the brake switch, grounded through the start
 * button), computed from the shipped wiring: the tables of these checks no longer say it. Common practice, no source.
 */
const root = new URL('../../seed/handbook/', import.meta.url).pathname;
const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.yaml'))
  .map((path) => ({ path: path.replaceAll('\\', '/'), text: readFileSync(join(root, path), 'utf8') }));
const { book } = buildBook(readHandbook(files).entries, 'shipped');
const circuits = new Map<CircuitId, Circuit>();
for (const { path, text } of files) {
  if (!path.startsWith('circuits/')) continue;
  const circuit = readCircuit(parse(text));
  circuits.set(circuit.id as CircuitId, circuit);
}
const model = [...book.models.values()].find(
  ({ traits }) => traits.starter === 'relay' && traits.start_button === 'ground-side',
);
const wiring = wiringLikelihood(book, circuits, model ?? null);

const rank = (symptomId: string, readings: ReadingInput[] = []) =>
  rankCauses({ book, symptomId: symptomId as SymptomId, model, tally: [], readings, wiring });
const share = (ranking: ReturnType<typeof rank>, pattern: RegExp) =>
  ranking.causes.filter((one) => pattern.test(one.causeId)).reduce((sum, one) => sum + one.probability, 0);
const outcome = (checkId: string, causeId: string, outcomeId: string): number => {
  const place = book.checks
    .get(checkId as CheckId)
    ?.outcomes.findIndex((one) => one.id === outcomeId) as number;
  return wiring?.chancesFor(checkId as CheckId, causeId as CauseId)?.[place] as number;
};

test('slow, laboring cranking: a weak battery or a bad engine ground before the starter', () => {
  const slow = rank('start-slow');
  expect(slow.causes[0]?.causeId).toMatch(/^battery/);
  expect(share(slow, /^battery/)).toBeGreaterThan(share(slow, /^starter-motor/));
  const dropped = rank('start-slow', [{ checkId: 'drop-ground-side', value: 2.5, unit: 'V' }]);
  expect(dropped.causes[0]?.causeId).toMatch(/^engine-ground|^frame-ground/);
});

test('no brake lamp with the lever held puts the brake switch first', () => {
  const ranking = rank('start-dead', [{ checkId: 'brake-lamp-with-lever', outcome: 'dark' }]);
  expect(ranking.causes[0]?.causeId).toMatch(/^brake-switch/);
});

test('a lamp that is bright at the output stud while starting points past the relay', () => {
  const bright = rank('start-click', [{ checkId: 'output-stud-lamp', outcome: 'bright' }]);
  expect(bright.causes[0]?.causeId).toMatch(/^starter-motor/);
  expect(share(bright, /^starter-relay-(coil|contact)-open/)).toBeLessThan(0.05);
});

test('plug parted, lever held, no lamp at the supply pin: open between brake-lamp circuit and relay', () => {
  const dark = rank('start-dead', [{ checkId: 'relay-plug-lamp-supply-pin', outcome: 'dark' }]);
  expect(share(dark, /^brake-switch|^relay-supply-wire/)).toBeGreaterThan(0.7);
  const lit = rank('start-dead', [
    { checkId: 'relay-plug-lamp-supply-pin', outcome: 'dark' },
    { checkId: 'brake-lamp-with-lever', outcome: 'lights' },
  ]);
  expect(lit.causes[0]?.causeId).toBe('relay-supply-wire-open');
});

test('lead on battery positive, button pressed, no lamp at the other pin: the button or its wire', () => {
  const dark = rank('start-dead', [
    { checkId: 'relay-plug-lamp-supply-pin', outcome: 'lit' },
    { checkId: 'relay-plug-lamp-ground-pin', outcome: 'dark' },
  ]);
  expect(share(dark, /^start-button|^relay-ground-wire/)).toBeGreaterThan(0.8);
});

test('both pins lit raise the relay most, without clearing a resistive switch', () => {
  const before = rank('start-dead');
  const lit = rank('start-dead', [
    { checkId: 'relay-plug-lamp-supply-pin', outcome: 'lit' },
    { checkId: 'relay-plug-lamp-ground-pin', outcome: 'lit' },
  ]);
  expect(lit.causes[0]?.causeId).toMatch(/^starter-relay/);
  const gain = (pattern: RegExp): number => share(lit, pattern) - share(before, pattern);
  expect(gain(/^starter-relay/)).toBeGreaterThan(gain(/^starter-motor/));
  expect(share(lit, /resistive/)).toBeGreaterThan(0.1);
});

test('a resistive brake switch lights the lamp at both pins and starves the coil, by itself', () => {
  expect(outcome('relay-plug-lamp-supply-pin', 'brake-switch-resistive', 'lit')).toBeGreaterThan(0.9);
  expect(outcome('relay-plug-lamp-ground-pin', 'brake-switch-resistive', 'lit')).toBeGreaterThan(0.9);
  expect(outcome('volts-across-starter-relay-coil', 'brake-switch-resistive', 'low')).toBeGreaterThan(0.6);
  const starved = rank('start-dead', [
    { checkId: 'relay-plug-lamp-supply-pin', outcome: 'lit' },
    { checkId: 'relay-plug-lamp-ground-pin', outcome: 'lit' },
    { checkId: 'volts-across-starter-relay-coil', value: 4.5, unit: 'V' },
    { checkId: 'relay-coil-supply-drop', value: 7.6, unit: 'V' },
  ]);
  expect(starved.causes[0]?.causeId).toBe('brake-switch-resistive');
  expect(share(starved, /^starter-relay/)).toBeLessThan(0.05);
});

test.each([
  'relay-plug-lamp-supply-pin',
  'relay-plug-lamp-ground-pin',
  'volts-across-starter-relay-coil',
  'relay-coil-supply-drop',
  'output-stud-lamp',
  'drop-ground-side',
  'battery-cranking-volts',
])('%s is read from the wiring, not from a table', (checkId) => {
  const check = book.checks.get(checkId as CheckId);
  const probed = new Set(check?.probes.map((probe) => probe.circuitId));
  expect(probed.has('start-ground-button' as CircuitId)).toBe(true);
  const doubled = Object.keys(check?.when ?? {}).filter((id) =>
    [...probed].every((circuitId) => book.causes.get(id as CauseId)?.wiring[circuitId]),
  );
  expect(doubled).toEqual([]);
});
