import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  allocate,
  cashTotal,
  priceLines,
  type QuoteLine,
  type QuoteTerms,
  roundings,
} from '../../src/quote/index.ts';

/** No coin appears or is lost: properties over generated quotes. A failing run prints its seed. */
const decimal = (most: number, digits: number): fc.Arbitrary<string> =>
  fc
    .tuple(fc.integer({ min: 0, max: most }), fc.integer({ min: 0, max: 10 ** digits - 1 }))
    .map(([whole, rest]) => `${whole}.${String(rest).padStart(digits, '0')}`);

const line = fc.record({
  kind: fc.constantFrom<QuoteLine['kind']>('labor', 'part', 'fee', 'deposit'),
  quantity: decimal(20, 2),
  unitPrice: decimal(900, 4),
  discountPercent: fc.option(decimal(99, 1)),
  taxRateId: fc.constantFrom(null, 'full', 'low'),
  payer: fc.constantFrom<QuoteLine['payer']>('customer', 'warranty', 'goodwill', 'internal'),
});
const lines = fc.array(line, { maxLength: 12 }).map((list) =>
  list.map(
    (one, place): QuoteLine => ({
      ...one,
      lineId: String(place),
      words: 'x',
      partNumber: null,
      optionId: null,
      isSafety: false,
      minutes: null,
      causeId: null,
    }),
  ),
);
const terms: fc.Arbitrary<QuoteTerms> = fc.record({
  currency: fc.constantFrom('USD', 'JPY', 'BHD'),
  taxRates: fc.constant([
    { id: 'full', title: 'Tax', percent: '19' },
    { id: 'low', title: 'Tax', percent: '7.125' },
  ]),
  taxPer: fc.constantFrom('line' as const, 'document' as const),
  taxRounding: fc.constantFrom(...roundings),
  cashStep: fc.constantFrom(null, 5, 100),
});

const sum = (list: readonly number[]): number => list.reduce((total, one) => total + one, 0);

describe('sums of a quote', () => {
  it('lines add up to the totals, whatever the rounding', () => {
    fc.assert(
      fc.property(lines, fc.option(decimal(99, 1)), terms, (list, discount, rules) => {
        const priced = priceLines(list, discount, rules);
        expect(sum(priced.lines.map((one) => one.gross))).toBe(priced.gross);
        expect(sum(priced.lines.map((one) => one.net))).toBe(priced.net);
        expect(sum(priced.lines.map((one) => one.tax))).toBe(priced.tax);
        expect(priced.gross - priced.discount).toBe(priced.net);
        expect(priced.net + priced.tax).toBe(priced.total);
        expect(sum(priced.byPayer.map((one) => one.total))).toBe(priced.total);
        for (const one of priced.lines) {
          expect(Number.isSafeInteger(one.net)).toBe(true);
          expect(one.discount).toBeGreaterThanOrEqual(0);
          expect(one.net).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  it('per line and per document differ by less than a coin a line', () => {
    fc.assert(
      fc.property(lines, terms, (list, rules) => {
        const a = priceLines(list, null, { ...rules, taxPer: 'line' });
        const b = priceLines(list, null, { ...rules, taxPer: 'document' });
        expect(Math.abs(a.tax - b.tax)).toBeLessThanOrEqual(list.length);
        expect(a.net).toBe(b.net);
      }),
    );
  });

  it('a quote does not depend on the order of its lines where tax is per document', () => {
    fc.assert(
      fc.property(lines, terms, (list, rules) => {
        const doc = { ...rules, taxPer: 'document' as const };
        expect(priceLines([...list].reverse(), null, doc).total).toBe(priceLines(list, null, doc).total);
      }),
    );
  });
});

describe('shares', () => {
  it('lose no coin and are within one coin of the exact share', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1_000_000, max: 1_000_000 }),
        fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: 1, maxLength: 20 }),
        (total, weights) => {
          const shares = allocate(total, weights);
          expect(sum(shares)).toBe(total);
          const all = sum(weights);
          if (all > 0)
            weights.forEach((weight, place) => {
              expect(Math.abs((shares[place] as number) - (total * weight) / all)).toBeLessThanOrEqual(1);
            });
        },
      ),
    );
  });
  it('cash is a whole number of coins, at most half a coin away', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), fc.constantFrom(5, 10, 50, 100), (total, step) => {
        const cash = cashTotal(total, step);
        expect(cash % step).toBe(0);
        expect(Math.abs(cash - total) * 2).toBeLessThanOrEqual(step);
      }),
    );
  });
});
