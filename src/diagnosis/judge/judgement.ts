import type { ReadingConditions } from '../reading.ts';

export const verdicts = ['good', 'low', 'high', 'bad', 'cannot-say'] as const;
export type Verdict = (typeof verdicts)[number];

export interface Judgement {
  /** `low` and `high` are outside of the limits on that side, `bad` beyond doubt; `cannot-say` where it would be a guess. */
  readonly verdict: Verdict;
  /** The value as understood, in `unit`. */
  readonly value: number;
  readonly unit: string;
  /** The value brought to the conditions of the limits, same unit. */
  readonly corrected?: number;
  /** Limits at these conditions, in `unit`; null is open. */
  readonly low: number | null;
  readonly high: number | null;
  readonly basis: string;
  readonly why: string;
}

export type Conditions = ReadingConditions;

/** A judge of one quantity: takes the value in its unit. */
export interface QuantityJudge {
  /** Names under which it is asked for, small letters with dashes; the first is the one shown in messages. */
  readonly names: readonly string[];
  readonly unit: string;
  /** What an instrument can show there, in `unit`. */
  readonly possible: { readonly low: number; readonly high: number };
  readonly judge: (value: number, conditions: Conditions) => Judgement;
}

export const commonPractice = 'common practice';

/** A number with at most `digits` significant digits, without trailing zeros. */
export function say(value: number, digits = 4): string {
  return String(Number(value.toPrecision(digits)));
}
