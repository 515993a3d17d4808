import type { MoneyView } from '../../api/contract.ts';
import { currencyDigits } from '../../terms.ts';

/** Minor units as a decimal text, without passing through a binary number: 1234 USD → "12.34". */
function decimalText({ amount, currency }: MoneyView): string {
  const digits = currencyDigits(currency);
  const bare = String(Math.abs(amount)).padStart(digits + 1, '0');
  const text = digits === 0 ? bare : `${bare.slice(0, -digits)}.${bare.slice(-digits)}`;
  return amount < 0 ? `-${text}` : text;
}

/** Minor units as a person writes them; `round` leaves the coins away. */
export function moneyWords(money: MoneyView, round = false): string {
  const digits = round ? 0 : currencyDigits(money.currency);
  return new Intl.NumberFormat('en-US', {
    style: 'currency',
    currency: money.currency,
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(decimalText(money) as Intl.StringNumericLiteral);
}

/** "80", "80.50" or "80,50" as minor units; null when it is not an amount. */
export function readMoney(text: string, currency: string): MoneyView | null {
  const clean = text.trim().replace(',', '.');
  const digits = currencyDigits(currency);
  const match = /^(\d{1,9})(?:\.(\d*))?$/.exec(clean);
  if (!match || (match[2] ?? '').length > digits) return null;
  return { amount: Number(`${match[1]}${(match[2] ?? '').padEnd(digits, '0')}`), currency };
}

/** The amount alone, for a field that is typed into: without the coins where there are none. */
export function moneyField(money: MoneyView | null): string {
  return money ? decimalText(money).replace(/\.0+$/, '') : '';
}
