import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monthStartUtc, reachOf } from '../../src/store/index.ts';

const hour = 3_600_000;
const first = 2024 * 12;
const months = 30;

/** Near the start of a month as often as anywhere: there the clocks differ. */
const moment = fc.oneof(
  fc.integer({ min: monthStartUtc(first), max: monthStartUtc(first + months) }),
  fc
    .tuple(fc.integer({ min: 0, max: months }), fc.integer({ min: -30 * hour, max: 30 * hour }))
    .map(([month, ms]) => monthStartUtc(first + month) + ms),
);
/** Clocks from 14 hours before to 14 hours after UTC (IANA time zone database: the widest in use). */
const closing = fc.record({ ms: moment, offset: fc.integer({ min: -14 * 60, max: 14 * 60 }) });
const monthOf = ({ ms, offset }: { ms: number; offset: number }): number => {
  const at = new Date(ms + offset * 60_000);
  return at.getUTCFullYear() * 12 + at.getUTCMonth();
};

describe('a stretch taken apart into months and edges', () => {
  it('counts every closing of the stretch once, on whatever clock, month by month', () => {
    fc.assert(
      fc.property(fc.array(closing, { minLength: 1, maxLength: 60 }), moment, moment, (closings, a, b) => {
        const [fromMs, untilMs] = [Math.min(a, b), Math.max(a, b)];
        const all = closings.map(({ ms }) => ms);
        const span = { firstMs: Math.min(...all), lastMs: Math.max(...all) };
        const reach = reachOf({ fromMs, untilMs }, span);
        const counted = new Map<number, number>();
        const add = (month: number, n: number): void => {
          counted.set(month, (counted.get(month) ?? 0) + n);
        };
        for (const one of closings) {
          const month = monthOf(one);
          if (reach.months && month >= reach.months.from && month <= reach.months.until) add(month, 1);
          for (const edge of reach.edges)
            if (
              one.ms >= edge.fromMs &&
              one.ms < edge.untilMs &&
              (edge.beforeMonth === undefined || month < edge.beforeMonth) &&
              (edge.afterMonth === undefined || month > edge.afterMonth)
            )
              add(edge.month ?? month, edge.sign);
        }
        const expected = new Map<number, number>();
        for (const one of closings)
          if (one.ms >= fromMs && one.ms < untilMs)
            expected.set(monthOf(one), (expected.get(monthOf(one)) ?? 0) + 1);
        expect(new Map([...counted].filter(([, n]) => n !== 0))).toEqual(expected);
      }),
      { numRuns: 3000 },
    );
  });

  it('looks at no more than half a month at either end', () => {
    fc.assert(
      fc.property(moment, moment, (a, b) => {
        const [fromMs, untilMs] = [Math.min(a, b), Math.max(a, b)];
        const { edges } = reachOf(
          { fromMs, untilMs },
          { firstMs: monthStartUtc(first - 2), lastMs: monthStartUtc(first + months + 2) },
        );
        const looked = edges.reduce((sum, edge) => sum + edge.untilMs - edge.fromMs, 0);
        // Half of 31 days and the hours in which clocks differ, twice.
        expect(looked).toBeLessThanOrEqual(2 * (15.5 * 24 + 28) * hour);
      }),
    );
  });
});
