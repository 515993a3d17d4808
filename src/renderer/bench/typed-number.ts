import type { CheckView, Conditions, Reading } from '../../api/contract.ts';

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

/** Conditions that decide how a value is judged, each as typed. */
export type AskedCondition = 'rest_hours' | 'temperature_c' | 'charge_percent';
export type Noted = Readonly<Partial<Record<AskedCondition, string>>>;

/** The noted conditions that are numbers. */
export function conditionsOf(noted: Noted): Conditions {
  const conditions: Conditions = {};
  for (const [name, text] of Object.entries(noted)) {
    const number = plainNumber(text);
    if (number !== null) conditions[name as AskedCondition] = number;
  }
  return conditions;
}

/**
 * What is sent: a plain number in the check's unit, or the words as typed ("12600 mV") for the book to read; with the
 * conditions that were noted beside it.
 */
export function readingOf(check: CheckView, typed: string, noted: Noted = {}): Reading {
  const conditions = conditionsOf(noted);
  const at = Object.keys(conditions).length > 0 ? { conditions } : {};
  const number = plainNumber(typed);
  if (number === null) return { checkId: check.checkId, value: typed.trim(), ...at };
  return { checkId: check.checkId, value: number, ...(check.unit ? { unit: check.unit } : {}), ...at };
}
