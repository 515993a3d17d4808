import type { Sparse } from './encoder.ts';
import type { LearnedWords } from './finder.ts';
import type { LearnedBook } from './learn-book.ts';
import { fold, type Token } from './normalize-text.ts';

/** Below this cosine two texts merely share some words. */
const similarFrom = 0.55;
/** What a text of the same words adds to the score of its symptom: enough to pass any other. */
const sameAdds = 16;
/** From here on the text counts as taught, and is not turned away as out of scope. */
const taughtFrom = 0.8;

/**
 * How the shop's own words move the shares of a text, changing them in place. Returned as a function that says whether
 * the text was taught. Of several symptoms for the same words the one taught last wins.
 */
export function learnedPull(
  knowledge: LearnedBook,
  labels: ReadonlyMap<string, number>,
  learned: readonly LearnedWords[],
): (tokens: readonly Token[], shares: Float32Array | null) => boolean {
  /** By the words themselves, so that what is taught later for the same words takes the place of what was before. */
  const taught = new Map<string, { readonly label: number; readonly values: ReadonlyMap<number, number> }>();
  for (const { symptomId, text } of learned) {
    const label = labels.get(symptomId);
    if (label === undefined || fold(text).trim() === '') continue;
    const tokens = knowledge.tokenizer.tokens(text);
    const { ids, values } = knowledge.sparse(tokens);
    if (ids.length === 0) continue;
    taught.set(tokens.map(({ stem }) => stem).join(' '), {
      label,
      values: new Map(Array.from(ids, (id, k) => [id, values[k] as number])),
    });
  }
  if (taught.size === 0) return () => false;

  return (tokens, shares) => {
    if (!shares) return false;
    const sparse = knowledge.sparse(tokens);
    const closest = new Map<number, number>();
    let best = 0;
    for (const { label, values } of taught.values()) {
      const cosine = cosineOf(sparse, values);
      if (cosine < similarFrom) continue;
      best = Math.max(best, cosine);
      closest.set(label, Math.max(closest.get(label) ?? 0, cosine));
    }
    if (closest.size === 0) return false;
    let sum = 0;
    for (const [label, cosine] of closest) {
      const adds = (sameAdds * (cosine - similarFrom)) / (1 - similarFrom) + (cosine > 0.9999 ? sameAdds : 0);
      shares[label] = Math.max(shares[label] as number, 1e-4) * Math.exp(adds);
    }
    for (const share of shares) sum += share;
    for (let label = 0; label < shares.length; label++) shares[label] = (shares[label] as number) / sum;
    return best >= taughtFrom;
  };
}

function cosineOf({ ids, values }: Sparse, other: ReadonlyMap<number, number>): number {
  let sum = 0;
  for (let k = 0; k < ids.length; k++) sum += (values[k] as number) * (other.get(ids[k] as number) ?? 0);
  return sum;
}
