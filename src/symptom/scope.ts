import type { LearnedBook } from './learn-book.ts';
import type { Token } from './normalize-text.ts';

// Set on held-out phrases of the book so that one or two real complaints in a hundred are turned away: a rider sent off
// with a fault costs more than a stray text that gets an answer.
const outShareShort = 0.4;
const outShareLong = 0.85;
const leastTopShare = 0.08;
const longTokens = 15;
const longClauses = 3;

/**
 * True where the text is no scooter fault that the book covers. A short text is out when the labels out of scope have
 * a large share together, or no symptom fits it at all. A story has to be out almost for certain: neighbors, buses and
 * birthdays weigh for “no fault” and stand around many a real one.
 */
export function isOutOfScope(
  knowledge: LearnedBook,
  tokens: readonly Token[],
  shares: Float32Array,
): boolean {
  const out = (shares[knowledge.notAFault] as number) + (shares[knowledge.electricDrive] as number);
  const clauses = (tokens.at(-1)?.clause ?? 0) + 1;
  if (tokens.length >= longTokens || clauses >= longClauses) return out > outShareLong;
  let top = 0;
  for (let label = 0; label < knowledge.notAFault; label++) top = Math.max(top, shares[label] as number);
  return out > outShareShort || top < Math.min(leastTopShare, 8 / shares.length);
}
