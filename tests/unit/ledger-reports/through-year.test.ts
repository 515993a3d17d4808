import { expect, test } from 'vitest';
import { throughYear } from '../../../src/ledger/index.ts';

const january2024 = 2024 * 12;
const month = (place: number, concerns: number, visits: number, isPartial = false) => ({
  month: january2024 + place,
  concerns,
  visits,
  isPartial,
});

// Worked by hand: 6 of 30 and 4 of 20 are 10 of 50, which is 20 in 100.
test('the same months of all years are counted together', () => {
  const year = throughYear([month(0, 6, 30), month(12, 4, 20), month(1, 0, 10)]);
  expect(year).toHaveLength(12);
  expect(year[0]).toEqual({ month: 1, concerns: 10, visits: 50, per100: 20 });
  expect(year[1]).toEqual({ month: 2, concerns: 0, visits: 10, per100: 0 });
});

test('months that are not whole, and months without a visit, give no rate', () => {
  const year = throughYear([month(10, 5, 5, true), month(11, 0, 0)]);
  expect(year[10]).toEqual({ month: 11, concerns: 0, visits: 0, per100: null });
  expect(year[11]?.per100).toBeNull();
  expect(throughYear([]).every((one) => one.per100 === null)).toBe(true);
});
