import type { LearnedBook } from './learn-book.ts';
import type { Token } from './normalize-text.ts';

// Set on the development complaints so that about one real complaint in a hundred is turned away.
const outShareShort = 0.3;
const outShareLong = 0.85;
const leastTopShare = 0.12;
const longTokens = 15;
const longClauses = 3;

/**
 * True where the text is no scooter fault that the book covers. A short text is out when the labels out of scope weigh
 * more than its best symptom, or nothing fits it at all. A story has to be out almost for certain: neighbors, buses and
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
  return out > outShareShort || out > top || top < Math.min(leastTopShare, 8 / shares.length);
}
