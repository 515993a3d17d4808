import { describe, expect, test } from 'vitest';
import { contract } from '../../../src/api/contract.ts';
import { readPeriod } from '../../../src/renderer/office/period.ts';
import { isDay, readFilters } from '../../../src/renderer/office/use-filters.ts';

// What a person may have typed into an address; the right answers have no outside source but the calendar.
const filtersOf = (address: string) => readFilters(new URLSearchParams(address), () => {});

describe('days of the calendar', () => {
  test.each([
    ['2026-02-28', true],
    ['2026-02-29', false],
    // 2000 was a leap year, 1900 was not (Gregorian rule).
    ['2000-02-29', true],
    ['1900-02-29', false],
    ['2026-13-01', false],
    ['2026-00-10', false],
    ['0001-01-01', false],
    ['99999-01-01', false],
    ['2026-2-3', false],
    ['NaN', false],
    ['', false],
  ])('%s', (text, isRight) => expect(isDay(text)).toBe(isRight));
});

describe('a period in an address', () => {
  const periodOf = (address: string) => {
    const filters = filtersOf(address);
    return { period: readPeriod(filters, '365'), ignored: filters.ignored.map((one) => one.name) };
  };
  const { input } = contract['patterns.recurring'];
  const asked = (address: string) => input.safeParse({ by: 'cause', ...periodOf(address).period.input });

  test('nothing is the usual one', () => {
    expect(periodOf('')).toMatchObject({ period: { choice: '365', input: { days: 365 } }, ignored: [] });
  });
  test('known days are taken', () => {
    expect(periodOf('days=90')).toMatchObject({ period: { input: { days: 90 } }, ignored: [] });
  });
  test('both days are included', () => {
    const { period } = periodOf('from=2026-10-01&until=2026-10-31');
    const { from, until } = period.input as { from: string; until: string };
    // The offset of this computer may change between the two; October has 31 days.
    expect(Math.round((Date.parse(until) - Date.parse(from)) / 3_600_000 / 24)).toBe(31);
    expect(from).toMatch(/^2026-10-01T00:00:00/);
    expect(until).toMatch(/^2026-11-01T00:00:00/);
    expect(period.choice).toBe('chosen');
  });
  test('one day is a period', () => {
    expect(periodOf('from=2026-10-01&until=2026-10-01').period.choice).toBe('chosen');
  });
  test.each([
    ['days=NaN', ['days']],
    ['days=-5', ['days']],
    ['days=1e9', ['days']],
    ['from=2026-02-30&until=2026-03-01', ['from', 'until']],
    ['from=2026-05-02&until=2026-05-01', ['from']],
    ['from=2026-05-02', ['from']],
    ['until=2026-05-02', ['until']],
    ['from=%3Cscript%3E&until=yesterday', ['from', 'until']],
  ])('%s is said and not taken', (address, names) => {
    const { period, ignored } = periodOf(address);
    expect(ignored).toEqual(names);
    expect(period.input).toEqual({ days: 365 });
  });
  test.each([
    'days=NaN',
    'from=2200-12-31&until=2200-12-31',
    'from=1900-01-01&until=1900-01-01',
    'from=x&until=y',
  ])('%s asks for something the contract takes', (address) => expect(asked(address).error).toBeUndefined());
});

describe('other filters', () => {
  test('a choice that does not exist is the first, and is said', () => {
    const filters = filtersOf('by=moon');
    expect(filters.oneOf('by', ['cause', 'model'])).toBe('cause');
    expect(filters.ignored).toEqual([{ name: 'by', value: 'moon', instead: 'the usual choice' }]);
  });
  test.each(['../../etc', 'Große', 'a'.repeat(81), '-dash', 'A B'])('%s is no id', (text) => {
    const filters = filtersOf(new URLSearchParams({ model: text }).toString());
    expect(filters.slug('model')).toBeUndefined();
    expect(filters.ignored).toHaveLength(1);
  });
  test('an id that could be one is asked for', () => {
    const filters = filtersOf('model=pellan-vico-50');
    expect(filters.slug('model')).toBe('pellan-vico-50');
    expect(filters.ignored).toEqual([]);
  });
});
