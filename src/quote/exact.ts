import { Decimal } from 'decimal.js';
import { Problem } from '../problem.ts';
import type { Amount } from './money.ts';

/** How a tax rule rounds what lies between two coins. `half-away` unless the rule says otherwise. */
export const roundings = ['half-away', 'half-even', 'down', 'up'] as const;
export type Rounding = (typeof roundings)[number];

const modes: Readonly<Record<Rounding, Decimal.Rounding>> = {
  'half-away': Decimal.ROUND_HALF_UP,
  'half-even': Decimal.ROUND_HALF_EVEN,
  down: Decimal.ROUND_DOWN,
  up: Decimal.ROUND_UP,
};

/** Rounds an exact number of minor units to a whole one. */
export function toWhole(value: Amount, rounding: Rounding = 'half-away'): number {
  const whole = value.toDecimalPlaces(0, modes[rounding]);
  if (whole.abs().gt(Number.MAX_SAFE_INTEGER))
    throw new Problem('too-large', 'That amount is too large to be money.');
  return whole.toNumber() + 0;
}

/**
 * Shares a whole number of minor units out by weight so that nothing is lost: each gets its share rounded toward zero,
 * and the coins left over go one by one to the largest remainders, earlier places first.
 * @param weights at least 0; where all are 0 the shares are equal
 */
export function allocate(total: number, weights: readonly number[]): number[] {
  if (weights.length === 0) return [];
  const even = weights.every((weight) => weight === 0);
  const used = even ? weights.map(() => 1) : weights;
  const all = used.reduce((sum, weight) => sum.plus(weight), new Decimal(0));
  const exact = used.map((weight) => new Decimal(total).mul(weight).div(all));
  const shares = exact.map((value) => value.toDecimalPlaces(0, Decimal.ROUND_DOWN).toNumber());
  let left = total - shares.reduce((sum, share) => sum + share, 0);
  const order = exact
    .map((value, place) => ({ place, rest: value.minus(shares[place] as number).abs() }))
    .sort((a, b) => b.rest.cmp(a.rest) || a.place - b.place);
  for (const { place } of order) {
    if (left === 0) break;
    shares[place] = (shares[place] as number) + Math.sign(left);
    left -= Math.sign(left);
  }
  return shares.map((share) => share + 0);
}

/**
 * Rounds a bill's total to the smallest coin in use; only where it is paid in cash, and never the lines.
 * @param step minor units of the smallest coin, at least 1; ties go away from zero
 */
export function cashTotal(total: number, step: number): number {
  return new Decimal(total).div(step).toDecimalPlaces(0, Decimal.ROUND_HALF_UP).mul(step).toNumber() + 0;
}
