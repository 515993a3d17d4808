import { Problem, quoted } from '../../problem.ts';

/**
 * A whole number as typed; empty is null. What is no number must not go on as nothing.
 * @throws Problem bad-input naming the field
 */
export function readWhole(text: string, field: string, such: string): number | null {
  const clean = text.trim();
  if (clean === '') return null;
  if (!/^\d{1,9}$/.test(clean))
    throw new Problem('bad-input', `${field}: ${such} was expected, ${quoted(clean)} was given.`, { field });
  return Number(clean);
}
