import { canonWords, dropWords, negationWords, phraseWords } from './trade-words.ts';
import { valueWord } from './value-words.ts';

/** One word of a text: as the search knows it, and where it stands in the text as typed. */
export interface Token {
  /** Folded, contractions opened, in the trade's one spelling. */
  readonly word: string;
  /** Under which inflected forms meet. */
  readonly stem: string;
  /** Offsets in the text as typed; end exclusive. */
  readonly start: number;
  readonly end: number;
  /** Number of the clause the word stands in. */
  readonly clause: number;
}

/** Puts another word in place of one that nobody taught; returns the word itself where it knows none better. */
export type Mend = (word: string) => readonly string[];

const wordPattern =
  /(?<![\p{L}\p{N}])\d+(?:[.,]\d+)?|[\p{L}\p{M}][\p{L}\p{M}\p{N}]*(?:['’`´]\p{L}+)*|[.!?;:,\n()–—]/gu;
const unitBehind = /\s?°?\s?(\p{L}*)/uy;
const breaks = /^[.!?;:,\n()–—]$/;
/** What stands behind these says something else about something else. */
const clauseWords = new Set(
  'but although though however except whereas because then when while until unless'.split(' '),
);

/** Folds case, width, accents and curly quotes away. */
export function fold(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/[’`´]/g, "'");
}

/** Cuts texts into words of one spelling; remembers every word it has seen, because books repeat themselves. */
export class Tokenizer {
  readonly #known = new Map<string, readonly Pick<Token, 'word' | 'stem'>[]>();
  #mend: Mend | null = null;

  /** From now on words are mended; what was remembered is forgotten. */
  mendWith(mend: Mend): void {
    this.#mend = mend;
    this.#known.clear();
  }

  tokens(text: string): Token[] {
    const tokens: Token[] = [];
    let clause = 0;
    let hasWord = false;
    let lastIsQuestion = false;
    for (const match of text.matchAll(wordPattern)) {
      const typed = match[0];
      const start = match.index;
      if (breaks.test(typed)) {
        if (hasWord) {
          clause += 1;
          hasWord = false;
        }
        lastIsQuestion = typed === '?';
        continue;
      }
      lastIsQuestion = false;
      const end = start + typed.length;
      const words = /^\d/.test(typed) ? numberTokens(text, typed, end) : this.#wordsOf(typed);
      if (words.length === 0) continue;
      if (hasWord && clauseWords.has(words[0]?.word ?? '')) clause += 1;
      hasWord = true;
      for (const { word, stem } of words) tokens.push({ word, stem, start, end, clause });
    }
    const last = tokens.at(-1);
    if (last && lastIsQuestion)
      tokens.push({ word: '?', stem: '?', start: last.end, end: last.end, clause: last.clause });
    return joinPhrases(tokens);
  }

  #wordsOf(typed: string): readonly Pick<Token, 'word' | 'stem'>[] {
    const known = this.#known.get(typed);
    if (known) return known;
    // A text of one long word, or of nothing but new words, must not fill the memory.
    if (this.#known.size > 50_000) this.#known.clear();
    const words = openWord(fold(typed).slice(0, 40))
      .flatMap((word) => this.#mend?.(word) ?? [word])
      .map((word) => ({ word, stem: stemOf(word) }));
    this.#known.set(typed, words);
    return words;
  }
}

/** The words of the trade behind one word as typed. */
function openWord(folded: string): string[] {
  if (folded === 'never' || folded === 'without') return [folded, 'not'];
  if (negationWords.has(folded) || folded.endsWith("n't")) return ['not'];
  const plain = folded.replace(/'(?:s|ll|ve|re|d|m)$/, '').replace(/'/g, '');
  if (plain === '' || dropWords.has(plain)) return [];
  return canon(plain);
}

const canon = (word: string): string[] => canonWords.get(word)?.split(' ') ?? [word];

function numberTokens(text: string, digits: string, end: number): Pick<Token, 'word' | 'stem'>[] {
  unitBehind.lastIndex = end;
  const word = valueWord(digits, (unitBehind.exec(text)?.[1] ?? '').toLowerCase());
  return [{ word, stem: word }];
}

function joinPhrases(tokens: readonly Token[]): Token[] {
  const out: Token[] = [];
  for (let i = 0; i < tokens.length; i++) {
    const first = tokens[i] as Token;
    const second = tokens[i + 1];
    const word = second ? phraseWords.get(first.word)?.get(second.word) : undefined;
    if (word !== undefined && second) {
      out.push({ word, stem: stemOf(word), start: first.start, end: second.end, clause: first.clause });
      i += 1;
    } else out.push(first);
  }
  return out;
}

const longSibilant = /(?:ss|sh|ch|x|z)es$/;
const lastDouble = /([bdfgklmnprstz])\1$/;
const endings = ['ingly', 'edly', 'ing', 'ed', 'ly', 'er', 'y'];

/** A light stem: plural, past, -ing and the like; errs toward leaving words alone. */
export function stemOf(word: string): string {
  if (word.length < 4 || !/^[a-z]+$/.test(word)) return word;
  let stem = word;
  if (stem.endsWith('ies') && stem.length > 4) stem = `${stem.slice(0, -3)}y`;
  else if (longSibilant.test(stem)) stem = stem.slice(0, -2);
  else if (stem.endsWith('s') && !/(?:ss|us|is)$/.test(stem)) stem = stem.slice(0, -1);
  for (const ending of endings) {
    if (!stem.endsWith(ending)) continue;
    const rest = stem.slice(0, -ending.length);
    if (rest.length < 3 || !/[aeiouy]/.test(rest)) continue;
    stem = rest;
    break;
  }
  if (lastDouble.test(stem)) stem = stem.slice(0, -1);
  if (stem.endsWith('e') && stem.length > 3) stem = stem.slice(0, -1);
  return stem;
}
