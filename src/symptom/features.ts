import type { Token } from './normalize-text.ts';

/** A thing about a text that can count for a symptom: a word, two neighbors, a piece of a word. */
export interface Feature {
  readonly name: string;
  /** Before weighting by rarity. */
  readonly weight: number;
  /** Index of the first and the last token it comes from. */
  readonly first: number;
  readonly last: number;
}

/** What one run of neighboring tokens says. */
export function featuresOf(tokens: readonly Token[], from = 0, to = tokens.length): Feature[] {
  const out: Feature[] = [];
  for (let i = from; i < to; i++) {
    const token = tokens[i] as Token;
    out.push({ name: token.stem, weight: 1, first: i, last: i });
    const next = i + 1 < to ? tokens[i + 1] : undefined;
    if (next) out.push({ name: `${token.stem} ${next.stem}`, weight: 0.9, first: i, last: i + 1 });
    const over = i + 2 < to ? tokens[i + 2] : undefined;
    if (over) out.push({ name: `${token.stem}_${over.stem}`, weight: 0.6, first: i, last: i + 2 });
    if (token.word.length >= 4 && !token.word.startsWith('#')) {
      const padded = `<${token.word}>`;
      const share = 0.9 / Math.sqrt(padded.length - 3);
      for (let k = 0; k + 4 <= padded.length; k++)
        out.push({ name: `~${padded.slice(k, k + 4)}`, weight: share, first: i, last: i });
    }
  }
  return out;
}
