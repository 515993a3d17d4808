import Fuse from 'fuse.js';
import type { Mend } from './normalize-text.ts';

/**
 * Mends words that the book does not know against those it does: by sound (“clik”, “nob”), by a slip of the finger
 * (fuse.js proposes, an edit distance decides), or by cutting two words that were typed as one.
 * @param counts how often the book uses each word
 */
export function mender(counts: ReadonlyMap<string, number>): Mend {
  const words = [...counts].filter(([word, count]) => count >= 3 && /^[a-z]{3,}$/.test(word));
  const bySound = new Map<string, string[]>();
  const byStart = new Map<string, string[]>();
  for (const [word] of words) {
    listIn(bySound, soundOf(word)).push(word);
    listIn(byStart, word.charAt(0)).push(word);
  }
  const searches = new Map<string, Fuse<string>>();
  const mended = new Map<string, readonly string[]>();

  const countOf = (word: string): number => counts.get(word) ?? 0;
  const best = (word: string, candidates: readonly string[], limit: number): string | undefined => {
    let found: string | undefined;
    let score = Number.POSITIVE_INFINITY;
    for (const candidate of candidates) {
      const distance = editDistance(word, candidate);
      // A word used often is the likelier one, but never worth a whole edit.
      const value = distance - Math.min(0.9, Math.log10(countOf(candidate)) * 0.3);
      if (distance <= limit && value < score) {
        found = candidate;
        score = value;
      }
    }
    return found;
  };

  const look = (word: string): readonly string[] => {
    const sound = best(word, bySound.get(soundOf(word)) ?? [], word.length <= 4 ? 2 : 3);
    if (sound) return [sound];
    if (word.length < 5) return [word];
    let search = searches.get(word.charAt(0));
    if (!search) {
      search = new Fuse(byStart.get(word.charAt(0)) ?? [], {
        threshold: 0.35,
        distance: 20,
        includeScore: true,
        minMatchCharLength: 2,
      });
      searches.set(word.charAt(0), search);
    }
    const near = search.search(word, { limit: 8 }).map((result) => result.item);
    const slip = best(word, near, word.length >= 8 ? 2 : 1);
    if (slip) return [slip];
    return cut(word) ?? [word];
  };

  const cut = (word: string): readonly string[] | undefined => {
    let found: readonly string[] | undefined;
    let score = 0;
    for (let k = 3; k + 3 <= word.length; k++) {
      const first = countOf(word.slice(0, k));
      const second = countOf(word.slice(k));
      const value = Math.min(first, second);
      if (value >= 20 && value > score) {
        found = [word.slice(0, k), word.slice(k)];
        score = value;
      }
    }
    return found;
  };

  return (word) => {
    if (counts.has(word) || word.length < 3 || word.length > 24 || !/^[a-z]+$/.test(word)) return [word];
    const known = mended.get(word);
    if (known) return known;
    if (mended.size > 5000) mended.clear();
    const found = look(word);
    mended.set(word, found);
    return found;
  };
}

function listIn(lists: Map<string, string[]>, key: string): string[] {
  const known = lists.get(key);
  if (known) return known;
  const list: string[] = [];
  lists.set(key, list);
  return list;
}

const soundRules: readonly (readonly [RegExp, string])[] = [
  [/gh(?=t)/g, ''],
  [/^kn/, 'n'],
  [/^wr/, 'r'],
  [/^wh/, 'w'],
  [/ph/g, 'f'],
  [/tch/g, 'C'],
  [/ch/g, 'C'],
  [/sh/g, 'S'],
  [/th/g, 'T'],
  [/dge|ge|gi|gy/g, 'j'],
  [/c(?=[eiy])/g, 's'],
  [/ck|c|q/g, 'k'],
  [/x/g, 'ks'],
  [/z/g, 's'],
  [/(?<=.)[aeiouyhw]+/g, ''],
  [/^[aeiou]/, 'A'],
  [/(.)\1+/g, '$1'],
];

/** English words that sound alike get one key, roughly: consonants stay, vowels go. */
export function soundOf(word: string): string {
  let key = word;
  for (const [pattern, into] of soundRules) key = key.replace(pattern, into);
  return key;
}

/** Insertions, deletions, changes and swaps of neighbors that turn one word into the other (optimal string alignment). */
export function editDistance(a: string, b: string): number {
  const width = b.length + 1;
  const d = new Int32Array((a.length + 1) * width);
  for (let i = 0; i <= a.length; i++) d[i * width] = i;
  for (let j = 0; j <= b.length; j++) d[j] = j;
  const at = (i: number, j: number): number => d[i * width + j] as number;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let value = Math.min(at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        value = Math.min(value, at(i - 2, j - 2) + 1);
      d[i * width + j] = value;
    }
  }
  return at(a.length, b.length);
}
