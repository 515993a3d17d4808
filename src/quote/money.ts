import { Decimal } from 'decimal.js';
import { Problem, quoted } from '../problem.ts';
import { type MinorUnits, minorUnits } from '../terms.ts';

/** Amounts of a quote never come near the limits of this precision; ties go away from zero. */
const Exact = Decimal.clone({ precision: 40, rounding: Decimal.ROUND_HALF_UP });
export type Amount = Decimal;

/**
 * Minor-unit digits of currencies that do not have two (ISO 4217). A display library's digits must not be used: they
 * differ for currencies whose coins went out of use.
 */
const digitsByCode: Readonly<Record<string, number>> = Object.fromEntries([
  ...[
    'BIF',
    'CLP',
    'DJF',
    'GNF',
    'ISK',
    'JPY',
    'KMF',
    'KRW',
    'PYG',
    'RWF',
    'UGX',
    'UYI',
    'VND',
    'VUV',
    'XAF',
    'XOF',
    'XPF',
  ].map((code) => [code, 0] as const),
  ...['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'].map((code) => [code, 3] as const),
  ...['CLF', 'UYW'].map((code) => [code, 4] as const),
]);

/** Digits after the point that a currency's smallest unit stands for: 0 to 4 (ISO 4217). */
export const currencyDigits = (currency: string): number => digitsByCode[currency] ?? 2;

/**
 * Reads a decimal string exactly; a number would already have lost cents.
 * @throws Problem bad-input naming the field
 */
export function amount(text: string, field: string): Amount {
  if (!/^-?\d{1,15}(\.\d{1,10})?$/.test(text))
    throw new Problem(
      'bad-input',
      `${field}: a decimal number such as 72.50 was expected, ${quoted(text)} was given.`,
      {
        field,
      },
    );
  return new Exact(text);
}

/**
 * Rounds half away from zero to the currency's minor unit.
 * @throws Problem too-large outside of the safe integers
 */
export function toMinorUnits(value: Amount, currency: string): MinorUnits {
  const scaled = value
    .mul(new Exact(10).pow(currencyDigits(currency)))
    .toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
  if (scaled.abs().gt(Number.MAX_SAFE_INTEGER))
    throw new Problem('too-large', 'That amount is too large to be money.');
  return minorUnits(scaled.toNumber());
}

/** Labor for some minutes at an hourly rate, exact. */
export const laborAmount = (ratePerHour: Amount, labor_minutes: number): Amount =>
  ratePerHour.mul(new Exact(labor_minutes)).div(60);

/** An amount of minor units as people read it: 1234 USD → 12.34 USD. */
export function moneyWords(money: { readonly amount: number; readonly currency: string }): string {
  const digits = currencyDigits(money.currency);
  return `${new Exact(money.amount).div(new Exact(10).pow(digits)).toFixed(digits)} ${money.currency}`;
}
