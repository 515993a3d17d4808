import type { BookWords, LearnedBook } from './learn-book.ts';
import { fold } from './normalize-text.ts';

/** A phrase which the numbers in use have not learned yet. */
export interface FreshPhrase {
  readonly symptomId: string;
  readonly text: string;
}

/** Twice the words in common over the words of both (Dice 1945); from here on two texts say nearly the same. */
const nearlySame = 0.75;
/** What a text of nearly the same words is worth against the share of everything else together. */
const weighsNear = 3;
/** The same for the very words: nothing else passes it. */
const weighsSame = 50;

/** What `now` says of symptoms and `before` did not. */
export function freshPhrases(before: BookWords, now: BookWords): FreshPhrase[] {
  const said = (
    book: BookWords,
    id: BookWords['symptoms'] extends ReadonlyMap<infer Id, unknown> ? Id : never,
  ) => {
    const symptom = book.symptoms.get(id);
    return symptom ? [symptom.title, symptom.meaning, ...(book.phrases.get(id) ?? [])] : [];
  };
  return [...now.symptoms.keys()].flatMap((symptomId) => {
    const known = new Set(said(before, symptomId));
    return said(now, symptomId)
      .filter((text) => !known.has(text))
      .map((text) => ({ symptomId, text }));
  });
}

const wordsIn = (text: string): Set<string> => new Set(fold(text).match(/[\p{L}\p{N}]+/gu) ?? []);

/**
 * Finds phrases by their words, without any training, so that a new phrase answers at once. Returned as a function that
 * moves the shares of a text in place and says whether it is one of the phrases, or nearly.
 */
export function freshPull(
  labels: ReadonlyMap<string, number>,
  phrases: readonly FreshPhrase[],
): (text: string, shares: Float32Array) => boolean {
  const known = phrases.flatMap(({ symptomId, text }) => {
    const label = labels.get(symptomId);
    const words = wordsIn(text);
    return label === undefined || words.size === 0 ? [] : [{ label, words }];
  });
  return (text, shares) => {
    if (known.length === 0) return false;
    const said = wordsIn(text);
    let best = 0;
    const found = new Map<number, number>();
    for (const { label, words } of known) {
      let both = 0;
      for (const word of words) if (said.has(word)) both += 1;
      const alike = (2 * both) / (words.size + said.size);
      if (alike < nearlySame) continue;
      best = Math.max(best, alike);
      found.set(label, Math.max(found.get(label) ?? 0, alike));
    }
    if (best === 0) return false;
    for (const [label, alike] of found)
      shares[label] = (shares[label] as number) + (alike === 1 ? weighsSame : weighsNear * alike);
    const sum = shares.reduce((a, b) => a + b, 0);
    for (let label = 0; label < shares.length; label++) shares[label] = (shares[label] as number) / sum;
    return true;
  };
}

/**
 * Numbers learned from an earlier state of a book, answering with the symptoms of the present one: a symptom that came since
 * has no share, one that went gives its share up.
 */
export function underLabels(knowledge: LearnedBook, symptomIds: readonly string[]): LearnedBook {
  const before = new Map(knowledge.symptomIds.map((id, label) => [id, label]));
  const old = [...symptomIds.map((id) => before.get(id) ?? -1), knowledge.notAFault, knowledge.electricDrive];
  return {
    ...knowledge,
    symptomIds,
    notAFault: symptomIds.length,
    electricDrive: symptomIds.length + 1,
    shares(tokens) {
      const shares = knowledge.shares(tokens);
      if (!shares) return null;
      const out = Float32Array.from(old, (label) => (label < 0 ? 0 : (shares[label] as number)));
      const sum = out.reduce((a, b) => a + b, 0);
      return sum > 0 ? out.map((share) => share / sum) : null;
    },
    pull(tokens, label) {
      const was = old[label] ?? -1;
      return was < 0 ? () => 0 : knowledge.pull(tokens, was);
    },
  };
}
