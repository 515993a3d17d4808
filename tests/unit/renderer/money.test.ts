import { describe, expect, test } from 'vitest';
import { moneyField, moneyWords, readMoney } from '../../../src/renderer/words/money.ts';

// Digits after the point by currency: ISO 4217, list one (JPY 0, USD 2, KWD 3).
test('money is shown with the digits of ISO 4217, also where the platform thinks otherwise (IQD 3, MMK 2)', () => {
  expect(moneyWords({ amount: 1234, currency: 'IQD' })).toMatch(/^IQD\s1\.234$/);
  expect(moneyWords({ amount: 1234, currency: 'MMK' })).toMatch(/^MMK\s12\.34$/);
  expect(moneyWords({ amount: -5, currency: 'USD' })).toBe('-$0.05');
  // Beyond what a binary number holds to the cent.
  expect(moneyWords({ amount: 9007199254740991, currency: 'USD' })).toBe('$90,071,992,547,409.91');
});

describe('money in a field', () => {
  test.each([
    ['80', 'USD', 8000],
    ['80.5', 'USD', 8050],
    ['79,50', 'USD', 7950],
    ['1200', 'JPY', 1200],
    ['1.234', 'KWD', 1234],
    [' 0 ', 'EUR', 0],
  ])('%s %s is %i minor units', (text, currency, amount) => {
    expect(readMoney(text, currency)).toEqual({ amount, currency });
  });

  test.each([
    ['', 'USD'],
    ['abc', 'USD'],
    ['-5', 'USD'],
    ['1.234', 'USD'],
    ['12.5', 'JPY'],
    ['1,000.00', 'USD'],
  ])('“%s” %s is no amount', (text, currency) => {
    expect(readMoney(text, currency)).toBeNull();
  });

  test('what a field shows reads back as the same amount', () => {
    for (const money of [
      { amount: 8000, currency: 'USD' },
      { amount: 7950, currency: 'USD' },
      { amount: 5, currency: 'USD' },
      { amount: 1234, currency: 'KWD' },
      { amount: 1200, currency: 'JPY' },
    ]) {
      expect(readMoney(moneyField(money), money.currency)).toEqual(money);
    }
    expect(moneyField(null)).toBe('');
  });

  test('words carry the sign and the coins of the currency', () => {
    expect(moneyWords({ amount: 7950, currency: 'USD' })).toBe('$79.50');
    expect(moneyWords({ amount: 7950, currency: 'USD' }, true)).toBe('$80');
    expect(moneyWords({ amount: 1200, currency: 'JPY' })).toBe('¥1,200');
  });
});
