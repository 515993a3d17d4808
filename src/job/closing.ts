import { type Book, type Proof, unlistedCause } from '../book/index.ts';
import { Problem, quoted } from '../problem.ts';
import type { CauseId } from '../terms.ts';

/** How a concern is closed: with its causes and their proof, or without. */
export type Closing =
  | {
      readonly kind: 'proven';
      readonly causes: readonly ({ readonly causeId: string } | { readonly words: string })[];
      readonly proof: Proof;
      readonly retest?: string | undefined;
      readonly minutes?: number | undefined;
      readonly parts?: readonly { readonly forCause?: number | undefined }[] | undefined;
    }
  | { readonly kind: 'not-reproduced' | 'normal' | 'handling'; readonly minutes?: number | undefined };

/** A day and a night of labor on one concern: more is a slip of the finger. */
const mostMinutes = 6000;

/**
 * Looks a closing through before anything is saved.
 * @throws Problem bad-input naming the field
 */
export function checkClosing(closing: Closing, book: Book): void {
  if (closing.minutes !== undefined && closing.minutes > mostMinutes)
    throw new Problem(
      'bad-input',
      `closing.minutes: at most ${mostMinutes} min, ${closing.minutes} was given.`,
      {
        field: 'closing.minutes',
      },
    );
  if (closing.kind !== 'proven') return;
  const seen = new Set<string>();
  closing.causes.forEach((cause, index) => {
    const key = 'causeId' in cause ? cause.causeId : cause.words.toLowerCase();
    const field = `closing.causes[${index}]`;
    if (seen.has(key)) throw new Problem('bad-input', `${field}: ${quoted(key)} is named twice.`, { field });
    seen.add(key);
    if ('causeId' in cause && !book.causes.has(cause.causeId as CauseId))
      throw new Problem(
        'not-found',
        `${field}.causeId: the book has no cause ${quoted(cause.causeId)}. A cause that the book lacks is given in words.`,
        { field: `${field}.causeId`, id: cause.causeId },
      );
  });
  if (closing.proof === 'retested' && !closing.retest?.trim())
    throw new Problem('bad-input', 'closing.retest: say what was retested, how, and how long.', {
      field: 'closing.retest',
    });
  closing.parts?.forEach((part, index) => {
    if (part.forCause !== undefined && part.forCause >= closing.causes.length)
      throw new Problem(
        'bad-input',
        `closing.parts[${index}].forCause: there are ${closing.causes.length} causes, ${part.forCause} was given.`,
        { field: `closing.parts[${index}].forCause` },
      );
  });
}

/** The causes as the tally counts them: one that the book lacks counts as not in the book. */
export const countedCauses = (closing: Closing): CauseId[] =>
  closing.kind === 'proven'
    ? closing.causes.map((cause) => ('causeId' in cause ? (cause.causeId as CauseId) : unlistedCause))
    : [];

/** Labor minutes the book plans for these causes; null when the book knows none of them. */
export function plannedMinutes(closing: Closing, book: Book): number | null {
  if (closing.kind !== 'proven') return null;
  const known = closing.causes
    .map((cause) => ('causeId' in cause ? book.causes.get(cause.causeId as CauseId) : undefined))
    .filter((cause) => cause !== undefined);
  return known.length === 0 ? null : known.reduce((sum, cause) => sum + cause.repair.minutes, 0);
}
