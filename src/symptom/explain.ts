import type { LearnedBook } from './learn-book.ts';
import type { Token } from './normalize-text.ts';

/** Of the strongest word; what pulls less is not named. */
const leastPull = 0.3;
const mostWords = 8;

/**
 * The words of the text that count for a label, as typed, in the order of the text. A pair of words counts for both;
 * neighbors come as one piece.
 */
export function countingWords(
  knowledge: LearnedBook,
  text: string,
  tokens: readonly Token[],
  label: number,
): string[] {
  const pulls = new Float64Array(tokens.length);
  const pullOf = knowledge.pull(tokens, label);
  knowledge.encoder.visit(tokens, (id, weight, first, last) => {
    const pull = (pullOf(id) * weight) / (last - first + 1);
    for (let i = first; i <= last; i++) pulls[i] = (pulls[i] as number) + pull;
  });
  const best = Math.max(...pulls);
  if (!(best > 0)) return [];
  const spans: { start: number; end: number; pull: number }[] = [];
  for (const [i, token] of tokens.entries()) {
    const pull = pulls[i] as number;
    if (pull < best * leastPull || token.end === token.start) continue;
    const before = spans.at(-1);
    // One word as typed may be two tokens; words with nothing but a space between them are one piece.
    if (
      before &&
      token.start <= before.end + 1 &&
      !/[^\s\p{L}\p{N}]/u.test(text.slice(before.end, token.start))
    ) {
      before.end = Math.max(before.end, token.end);
      before.pull = Math.max(before.pull, pull);
    } else spans.push({ start: token.start, end: token.end, pull });
  }
  const kept = new Set([...spans].sort((a, b) => b.pull - a.pull).slice(0, mostWords));
  return [...new Set(spans.filter((span) => kept.has(span)).map(({ start, end }) => text.slice(start, end)))];
}

/** A sentence from the words that count. */
export function reason(words: readonly string[]): string {
  if (words.length === 0) return 'By the text as a whole; no single word decides.';
  return `Riders say ${words.map((word) => `“${word.replace(/\s+/g, ' ')}”`).join(', ')} when they mean this.`;
}
