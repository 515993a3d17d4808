import type { LearnedBook } from './learn-book.ts';
import type { Token } from './normalize-text.ts';

// Set on held-out phrases of the book so that one or two real complaints in a hundred are turned away: a rider sent off
// with a fault costs more than a stray text that gets an answer.
const outShareShort = 0.3;
const outShareLong = 0.7;
const leastTopShare = 0.08;
const longTokens = 15;
const longClauses = 3;

/** What only a machine with a combustion engine has, in the search's spelling. */
const combustion = new Set(
  'fuel carburetor kickstarter electricstart exhaust variator sparkplug piston choke injector stroke valve'.split(
    ' ',
  ),
);
/** What only an electric drive has. */
const electric = new Set(
  'escooter ebike ev hub controller bms regen lithium kwh hall inverter bldc cells'.split(' '),
);

/**
 * True where the text names something that electric drives lack and nothing that only they have: “electric starter dead,
 * kick starter works” is not about an electric scooter, whatever the rest sounds like.
 */
export function namesCombustion(tokens: readonly Token[]): boolean {
  let found = false;
  for (const [i, { word }] of tokens.entries()) {
    if (electric.has(word)) return false;
    // “No petrol in mine”, “unlike a petrol one”.
    if (combustion.has(word) && !/^(?:not|unlike|zero)$/.test(tokens[i - 1]?.word ?? '')) found = true;
    if (
      word === 'gas' &&
      /^(?:scooter|engine)$/.test(tokens[i + 1]?.word ?? '') &&
      tokens[i - 1]?.word !== 'not'
    )
      found = true;
    // As a verb or a lever; a kick scooter is something else.
    if (/^kick(?:s|ed|ing)?$/.test(word) && tokens[i + 1]?.word !== 'scooter') found = true;
  }
  return found;
}

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
  const drive = namesCombustion(tokens) ? 0 : (shares[knowledge.electricDrive] as number);
  const out = (shares[knowledge.notAFault] as number) + drive;
  const clauses = (tokens.at(-1)?.clause ?? 0) + 1;
  if (tokens.length >= longTokens || clauses >= longClauses) return out > outShareLong;
  let top = 0;
  for (let label = 0; label < knowledge.notAFault; label++) top = Math.max(top, shares[label] as number);
  return out > outShareShort || top < Math.min(leastTopShare, 8 / shares.length);
}
