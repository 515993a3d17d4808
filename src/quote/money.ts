import { Decimal } from 'decimal.js';
import { Problem, quoted } from '../problem.ts';
import { currencyDigits, type MinorUnits, minorUnits } from '../terms.ts';

export { currencyDigits };

/** Amounts of a quote never come near the limits of this precision; ties go away from zero. */
const Exact = Decimal.clone({ precision: 40, rounding: Decimal.ROUND_HALF_UP });
export type Amount = Decimal;

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
