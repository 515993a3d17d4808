import type { MoneyView } from '../../api/contract.ts';

const digitsOf = (currency: string): number =>
  new Intl.NumberFormat('en-US', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ??
  2;

/** Minor units as a person writes them; `round` leaves the coins away. */
export function moneyWords(money: MoneyView, round = false): string {
  const digits = digitsOf(money.currency);
  return new Intl.NumberFormat('en-US', {
    style: 'currency',
    currency: money.currency,
    minimumFractionDigits: round ? 0 : digits,
    maximumFractionDigits: round ? 0 : digits,
  }).format(money.amount / 10 ** digits);
}

/** "80", "80.50" or "80,50" as minor units; null when it is not an amount. */
export function readMoney(text: string, currency: string): MoneyView | null {
  const clean = text.trim().replace(',', '.');
  const digits = digitsOf(currency);
  const match = /^(\d{1,9})(?:\.(\d*))?$/.exec(clean);
  if (!match || (match[2] ?? '').length > digits) return null;
  return { amount: Number(`${match[1]}${(match[2] ?? '').padEnd(digits, '0')}`), currency };
}

/** The amount alone, for a field that is typed into. */
export function moneyField(money: MoneyView | null): string {
  if (!money) return '';
  const digits = digitsOf(money.currency);
  return (money.amount / 10 ** digits).toFixed(money.amount % 10 ** digits === 0 ? 0 : digits);
}
