import { expect, test } from 'vitest';
import { readValue } from '../../../src/diagnosis/index.ts';
import { Problem } from '../../../src/problem.ts';

const battery = { possible: { low: -1, high: 20 } };

test.each([
  [12.6, undefined, 'V', 12.6],
  ['12600 mV', undefined, 'V', 12.6],
  ['12 600 mV', undefined, 'V', 12.6],
  [12600, 'mV', 'V', 12.6],
  ['12,6', undefined, 'V', 12.6],
  ['12.6V', undefined, 'V', 12.6],
  ['12,6 v', undefined, 'V', 12.6],
  ['−0.4 V', undefined, 'V', -0.4],
  ['.5', 'V', 'V', 0.5],
  ['1.2 kΩ', undefined, 'ohm', 1200],
  ['1k2', undefined, 'ohm', 1200],
  ['4R7', undefined, 'ohm', 4.7],
  ['3.9 Ω', undefined, 'ohm', 3.9],
  ['0.0012 Mohm', undefined, 'kohm', 1.2],
  ['250 mohm', undefined, 'ohm', 0.25],
  ['0,5 mA', undefined, 'mA', 0.5],
  ['0.35A', undefined, 'mA', 350],
  ['1.234,5 mV', undefined, 'mV', 1234.5],
  ['1,234.5', 'mV', 'mV', 1234.5],
  ['29 psi', undefined, 'kPa', 199.947961502],
  ['2 bar', undefined, 'kPa', 200],
  ['68 °F', undefined, '°C', 20],
  ['5200 rpm', undefined, '1/min', 5200],
  ['90 s', undefined, 'min', 1.5],
  ['0.1 in', undefined, 'mm', 2.54],
  ['2e3', 'ohm', 'kohm', 2],
] as const)('%s %s as %s is %f', (given, unit, wanted, expected) => {
  expect(readValue(given, unit, wanted)).toBe(expected);
});

test('OL of an ohmmeter is the highest possible reading', () => {
  expect(readValue('OL', undefined, 'ohm', { possible: { low: 0, high: 1e8 } })).toBe(1e8);
  expect(() => readValue('OL', undefined, 'V')).toThrow(/no reading in V/);
});

test('what is possible settles a comma, else it is asked about', () => {
  expect(readValue('1,200', undefined, 'V', battery)).toBe(1.2);
  expect(readValue('1,200', undefined, '1/min', { possible: { low: 100, high: 15_000 } })).toBe(1200);
  expect(() => readValue('1,200', undefined, 'ohm', { possible: { low: 0, high: 1e6 } })).toThrow(
    /1.2 ohm or as 1200 ohm/,
  );
});

test.each([
  [12600, undefined, 'V', /12600 V is outside .* -1 to 20 V\. Did you mean 12600 mV \(12.6 V\)\?/],
  ['12.6 A', undefined, 'V', /“A” is no unit of voltage/],
  ['12.6 foo', undefined, 'V', /“foo” is no unit of voltage/],
  ['high', undefined, 'V', /“high” is not a number/],
  ['', undefined, 'V', /not a number/],
  ['12.6.1', undefined, 'V', /not a number/],
  [Number.NaN, undefined, 'V', /not a number/],
  [-400, undefined, 'V', /outside/],
  ['12.6 V', 'mV', 'V', /says V, but the unit is given as “mV”/],
  ['🔋', undefined, 'V', /not a number/],
] as const)('%s %s as %s is refused or asked about', (given, unit, wanted, message) => {
  expect(() => readValue(given, unit, wanted, { ...battery, field: 'readings[1].value' })).toThrow(message);
  try {
    readValue(given, unit, wanted, { ...battery, field: 'readings[1].value' });
  } catch (error) {
    expect(error).toBeInstanceOf(Problem);
    expect((error as Problem).code).toBe('bad-input');
  }
});
