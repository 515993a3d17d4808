import { canonWords, dropWords, phraseWords } from './trade-words.ts';

/** One word of a text: as the search knows it, and where it stands in the text as typed. */
export interface Token {
  /** Folded, contractions opened, in the trade's one spelling. */
  readonly word: string;
  /** The stem, under which inflected forms meet. */
  readonly stem: string;
  /** Offsets in the text as typed; end exclusive. */
  readonly start: number;
  readonly end: number;
  /** Number of the clause the word stands in. */
  readonly clause: number;
}

const wordPattern = /[\p{L}\p{M}\p{N}]+(?:['’`´][\p{L}]+)*|[.!?;:,\n()–—]|[+~=°%Ω]/gu;
const breaks = /^[.!?;:,\n()–—]$/;

/** Folds case, width, accents and curly quotes away. */
export function fold(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/[’`´]/g, "'");
}

/**
 * Cuts a text into words of one spelling. Punctuation ends a clause; so do “but”, “although” and the like, because
 * what stands behind them says something else about something else.
 */
export function tokensOf(text: string): Token[] {
  const tokens: Token[] = [];
  let clause = 0;
  let hasWord = false;
  for (const match of text.matchAll(wordPattern)) {
    const typed = match[0];
    if (breaks.test(typed)) {
      // A decimal point inside a number is no full stop: “12.6” comes as two numbers and stays one clause.
      const before = text[match.index - 1] ?? '';
      const after = text[match.index + 1] ?? '';
      const inNumber = (typed === '.' || typed === ',') && /\d/.test(before) && /\d/.test(after);
      if (hasWord && !inNumber) {
        clause += 1;
        hasWord = false;
      }
      continue;
    }
    const folded = fold(typed);
    if (folded === '') continue;
    const start = match.index;
    const end = start + typed.length;
    if (clauseWords.has(folded) && hasWord) clause += 1;
    hasWord = true;
    for (const word of wordsOf(folded)) tokens.push({ word, stem: stemOf(word), start, end, clause });
  }
  return joinPhrases(tokens);
}

const clauseWords = new Set([
  'but',
  'although',
  'though',
  'however',
  'except',
  'whereas',
  'because',
  'then',
  'when',
  'while',
  'until',
  'unless',
]);

const negations =
  /^(?:(?:wo|ca|do|does|did|is|are|was|were|has|have|had|would|could|should|ai|need|must)n'?t|cannot|dnt|doesn|didn|cant|wont|dont|nt|aint|wudnt|wouldnt|nope|nah|never|without|w\/o|neither|nor|nae|dinnae|cannae|willnae|wont)$/;

function wordsOf(folded: string): string[] {
  if (negations.test(folded)) return folded === 'never' || folded === 'without' ? [folded, 'not'] : ['not'];
  const plain = folded.replace(/'(?:s|ll|ve|re|d|m)$/, '').replace(/'/g, '');
  if (plain === '' || dropWords.has(plain)) return [];
  // “12v”, “90kmh”: number and unit are two words.
  const unit = /^(\d+)(\p{L}+)$/u.exec(plain);
  if (unit?.[1] && unit[2])
    return [numberWord(unit[1]), ...(canonWords.get(unit[2])?.split(' ') ?? [unit[2]])];
  if (/^\d+$/.test(plain)) return [numberWord(plain)];
  return canonWords.get(plain)?.split(' ') ?? [plain];
}

/** Numbers count by their size only: 12 and 13 are told apart, 113 and 117 are not. */
const numberWord = (digits: string): string => {
  const value = Number(digits);
  if (value <= 20) return `#${value}`;
  if (value < 100) return `#${Math.floor(value / 10)}x`;
  return `#e${digits.length}`;
};

function joinPhrases(tokens: readonly Token[]): Token[] {
  const out: Token[] = [];
  for (let i = 0; i < tokens.length; i++) {
    const first = tokens[i] as Token;
    const second = tokens[i + 1];
    const third = tokens[i + 2];
    const three = second && third ? phraseWords.get(`${first.word} ${second.word} ${third.word}`) : undefined;
    const two = second ? phraseWords.get(`${first.word} ${second.word}`) : undefined;
    const word = three ?? two;
    const last = three ? third : second;
    if (word !== undefined && last) {
      out.push({ word, stem: stemOf(word), start: first.start, end: last.end, clause: first.clause });
      i += three ? 2 : 1;
    } else out.push(first);
  }
  return out;
}

/** A light stem: plural, past, -ing and the like; errs toward leaving words alone. */
export function stemOf(word: string): string {
  if (word.length < 4 || !/^[a-z]+$/.test(word)) return word;
  let stem = word;
  if (stem.endsWith('ies') && stem.length > 4) stem = `${stem.slice(0, -3)}y`;
  else if (/(?:ss|sh|ch|x|z)es$/.test(stem)) stem = stem.slice(0, -2);
  else if (stem.endsWith('s') && !/(?:ss|us|is)$/.test(stem)) stem = stem.slice(0, -1);
  for (const ending of ['ingly', 'edly', 'ing', 'ed', 'ly', 'er', 'y']) {
    if (!stem.endsWith(ending)) continue;
    const rest = stem.slice(0, -ending.length);
    if (rest.length < 3 || !/[aeiouy]/.test(rest)) continue;
    stem = rest;
    break;
  }
  if (/([bdfgklmnprstz])\1$/.test(stem)) stem = stem.slice(0, -1);
  if (stem.endsWith('e') && stem.length > 3) stem = stem.slice(0, -1);
  return stem;
}
