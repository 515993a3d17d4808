import type { CheckView, Reading } from '../../api/contract.ts';

type Outcome = CheckView['outcomes'][number];

/** The number in what was typed, "12,6" as well as "12.6"; null while it is none or carries a unit of its own. */
export function plainNumber(text: string): number | null {
  const clean = text.trim().replace(',', '.').replace('−', '-');
  return /^-?\d+(\.\d*)?$/.test(clean) ? Number(clean) : null;
}

/** Which answer of the check a number falls under, to show its meaning while typing. */
export function outcomeOf(outcomes: readonly Outcome[], value: number): Outcome | undefined {
  return outcomes.find(
    ({ low, high }) =>
      (low !== undefined || high !== undefined) && value >= (low ?? -Infinity) && value < (high ?? Infinity),
  );
}

/** What is sent: a plain number in the check's unit, or the words as typed ("12600 mV") for the book to read. */
export function readingOf(check: CheckView, typed: string): Reading {
  const number = plainNumber(typed);
  if (number === null) return { checkId: check.checkId, value: typed.trim() };
  return { checkId: check.checkId, value: number, ...(check.unit ? { unit: check.unit } : {}) };
}
