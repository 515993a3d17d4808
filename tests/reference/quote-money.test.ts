import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import {
  allocate,
  cashTotal,
  currencyDigits,
  priceLines,
  type QuoteLine,
  type QuoteTerms,
} from '../../src/quote/index.ts';

const rows = (name: string): Record<string, string>[] =>
  parse(readFileSync(join(import.meta.dirname, 'data', name)), { columns: true, bom: true });

const line = (more: Partial<QuoteLine>): QuoteLine => ({
  lineId: 'a',
  kind: 'part',
  words: 'a part',
  partNumber: null,
  quantity: '1',
  unitPrice: '1.00',
  discountPercent: null,
  taxRateId: 'tax',
  payer: 'customer',
  optionId: null,
  isSafety: false,
  minutes: null,
  causeId: null,
  ...more,
});
const terms = (percent: string, more: Partial<QuoteTerms> = {}): QuoteTerms => ({
  currency: 'USD',
  taxRates: [{ id: 'tax', title: 'Sales tax', percent }],
  taxPer: 'line',
  taxRounding: 'half-away',
  cashStep: null,
  ...more,
});

it.each(rows('currency-minor-units.csv'))('ISO 4217 digits of $code', (row) => {
  expect(currencyDigits(row.code as string)).toBe(Number(row.minor_unit_digits));
});

describe('tax (Streamlined Sales and Use Tax Agreement section 324: rounded once, from the third decimal)', () => {
  it('0.08499 is 0.08: never rounded twice', () => {
    // 1.1332 dollars cannot be a net of whole cents, so a net of 1.00 at 8.499 % gives the same tax.
    expect(priceLines([line({})], null, terms('8.499')).tax).toBe(8);
    expect(priceLines([line({})], null, terms('8.5')).tax).toBe(9);
  });
  it('three lines of 1.15 at 7.5 %: 0.27 by line, 0.26 on the invoice (derived from the rule)', () => {
    const three = ['a', 'b', 'c'].map((lineId) => line({ lineId, unitPrice: '1.15' }));
    expect(priceLines(three, null, terms('7.5')).tax).toBe(27);
    expect(priceLines(three, null, terms('7.5', { taxPer: 'document' })).tax).toBe(26);
  });
  it('another rule may round down or to even (member states of the EU decide, CJEU C-484/06)', () => {
    const one = [line({ unitPrice: '0.50' })];
    expect(priceLines(one, null, terms('5', { taxRounding: 'half-even' })).tax).toBe(2);
    expect(priceLines(one, null, terms('5', { taxRounding: 'half-away' })).tax).toBe(3);
    expect(priceLines(one, null, terms('5.9', { taxRounding: 'down' })).tax).toBe(2);
  });
  it('0.285 and 1.005 round away from zero: exact decimals, where binary numbers would lose (derived)', () => {
    expect(priceLines([line({ unitPrice: '1.005', taxRateId: null })], null, terms('0')).net).toBe(101);
    expect(priceLines([line({ unitPrice: '0.285', taxRateId: null })], null, terms('0')).net).toBe(29);
    expect(priceLines([line({ unitPrice: '-1.005', taxRateId: null })], null, terms('0')).net).toBe(-101);
  });
});

describe('discounts come before tax, deposits are left out of them, payers get bills of their own', () => {
  it('worked by hand: 2 × 19.99 less 10 %, one hour at 60, deposit 12, all less 5 %, tax 8 %', () => {
    const priced = priceLines(
      [
        line({ lineId: 'pads', quantity: '2', unitPrice: '19.99', discountPercent: '10' }),
        line({ lineId: 'labor', kind: 'labor', unitPrice: '60' }),
        line({ lineId: 'core', kind: 'deposit', unitPrice: '12', taxRateId: null }),
        line({ lineId: 'free', unitPrice: '5', payer: 'goodwill' }),
      ],
      '5',
      terms('8', { taxPer: 'document' }),
    );
    // 39.98 - 4.00 = 35.98; 35.98 + 60 = 95.98, 5 % of it 4.80: 91.18; tax 7.2944 → 7.29; deposit 12.00.
    expect(priced.customer.total).toBe(9118 + 729 + 1200);
    // 5.00 - 0.25 = 4.75; tax 0.38.
    expect(priced.byPayer.find((one) => one.payer === 'goodwill')?.total).toBe(513);
    expect(priced.deposits).toBe(1200);
  });
  it('a hundred among three is 34, 33, 33 (Fowler, Patterns of Enterprise Application Architecture: Money, allocate)', () => {
    expect(allocate(100, [1, 1, 1])).toEqual([34, 33, 33]);
    expect(allocate(5, [3, 7])).toEqual([2, 3]);
  });
});

describe('cash rounding', () => {
  const examples = rows('cash-rounding.csv').filter(
    (row) => /^[\d.]+$/.test(row.amount ?? '') && row.step !== '',
  );
  it.each(examples)('$currency: $amount → $rounded', (row) => {
    const minor = (text: string): number => Math.round(Number(text) * 100);
    expect(cashTotal(minor(row.amount as string), minor(row.step as string))).toBe(
      minor(row.rounded as string),
    );
  });
  it('is only on the total, and only in cash', () => {
    const priced = priceLines(
      [line({ unitPrice: '20.43', taxRateId: null })],
      null,
      terms('0', { cashStep: 5 }),
    );
    expect(priced.lines[0]?.net).toBe(2043);
    expect(priced.customer).toEqual({ total: 2043, cash: 2045 });
  });
});
