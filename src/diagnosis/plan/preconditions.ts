import { type Book, type Check, existsOn, type MachineTraits, type Precondition } from '../../book/index.ts';
import type { CheckId } from '../../terms.ts';
import type { Fact } from '../evidence.ts';

export type PreconditionState = 'met' | 'failed' | 'unknown';

/**
 * How a precondition stands: by the last reading of its check; skipped by a person (for want of a tool) or not
 * possible on this machine counts as met, since nobody can settle it.
 */
export function preconditionState(
  book: Book,
  machine: MachineTraits | undefined,
  facts: readonly Fact[],
  skipped: ReadonlySet<CheckId>,
  precondition: Precondition,
): PreconditionState {
  const check = book.checks.get(precondition.checkId);
  if (!check || !existsOn(check.on, machine)) return 'met';
  const fact = facts.find((one) => one.check?.id === check.id);
  const outcome = fact && check.outcomes[fact.outcome];
  if (outcome) return precondition.metBy.includes(outcome.id) ? 'met' : 'failed';
  return skipped.has(check.id) ? 'met' : 'unknown';
}

/** The states of all preconditions of the book. */
export function preconditionStates(
  book: Book,
  machine: MachineTraits | undefined,
  facts: readonly Fact[],
  skipped: ReadonlySet<CheckId>,
): Map<string, PreconditionState> {
  const states = new Map<string, PreconditionState>();
  for (const precondition of book.preconditions.values()) {
    states.set(precondition.id, preconditionState(book, machine, facts, skipped, precondition));
  }
  return states;
}

/** The precondition to see to before a check: a failed one first, then an unknown one, its own needs before it. */
export function dueBefore(
  book: Book,
  states: ReadonlyMap<string, PreconditionState>,
  check: Check,
  visited: ReadonlySet<string> = new Set(),
): Precondition | undefined {
  const needs = check.needs.filter((id) => !visited.has(id));
  const due =
    needs.find((id) => states.get(id) === 'failed') ?? needs.find((id) => states.get(id) === 'unknown');
  const precondition = due === undefined ? undefined : book.preconditions.get(due);
  if (!precondition || precondition.checkId === check.id) return undefined;
  if (states.get(precondition.id) === 'failed') return precondition;
  const own = book.checks.get(precondition.checkId);
  return (own && dueBefore(book, states, own, new Set([...visited, precondition.id]))) ?? precondition;
}
