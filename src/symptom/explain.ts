import type { LearnedBook } from './learn-book.ts';
import type { Token } from './normalize-text.ts';

const mostSpans = 5;
const mostTokens = 4;
/** Of all that speaks for the symptom: once the marked words make up so much, the rest is not named. */
const enough = 0.8;
/** Of the strongest span: what does less is not named; the second one is held to less, since one word alone tells little. */
const leastShare = 0.25;
const leastOfSecond = 0.1;
/** Of the word a span grew from: a neighbor that adds less stays outside. */
const leastOfNeighbor = 0.3;

/** Words that join others and mean nothing alone; they may stand inside of a span and never at its end. */
const joining = new Set(
  (
    'at in on by for from with without into onto over under about after before as if than too very so just only really quite ' +
    'then when while until unless because but although though however except whereas where what who which how why there here ' +
    'do does did have has had will would can could should may might must shall get gets got getting go goes going went come comes ' +
    'say says said saying think thinks thought know tell told please sir hello hi thanks ok okay well now also still again always ' +
    'day week month year morning today yesterday last ago since time some any all every one two thing things bit lot like even much more ' +
    // Who says it is no sign of what is wrong.
    'son daughter wife husband mother mom mum father dad brother sister uncle aunt friend mate neighbor neighbour boss guy lady man woman boy girl kid kids policeman'
  ).split(' '),
);

interface Span {
  first: number;
  last: number;
  effect: number;
}

/** One feature of the text with what it adds to the lead over the rival. */
interface Lead {
  readonly first: number;
  readonly last: number;
  readonly adds: number;
}

/**
 * The words or short spans that made the difference between a label and its rival, as typed, in the order of the text: two to
 * five in most texts. What a span does is by how much the lead falls when it is left out, with every pair it is part of.
 * @param rival the label that comes next, or the first one where `label` is not the first
 */
export function countingWords(
  knowledge: LearnedBook,
  text: string,
  tokens: readonly Token[],
  label: number,
  rival: number,
): string[] {
  const forLabel = knowledge.pull(tokens, label);
  const forRival = knowledge.pull(tokens, rival);
  let leads: Lead[] = [];
  const pulls = new Float64Array(tokens.length);
  knowledge.encoder.visit(tokens, (id, weight, first, last) => {
    const pull = forLabel(id);
    for (let i = first; i <= last; i++) pulls[i] = (pulls[i] as number) + pull * weight;
    leads.push({ first, last, adds: (pull - forRival(id)) * weight });
  });
  const effectOf = (first: number, last: number): number =>
    leads.reduce((sum, lead) => (lead.last < first || lead.first > last ? sum : sum + lead.adds), 0);
  const isWord = tokens.map(
    ({ word, start, end }, i) =>
      end > start && !joining.has(word) && word !== 'not' && (pulls[i] as number) > 0,
  );
  const found: Span[] = [];
  let covered = 0;
  let all = 0;
  for (let round = 0; round < mostSpans; round += 1) {
    const singles = tokens.map((_, i) => (isWord[i] ? effectOf(i, i) : 0));
    if (round === 0) all = singles.reduce((sum, effect) => sum + Math.max(0, effect), 0);
    const seed = singles.indexOf(Math.max(...singles));
    const effect = singles[seed] ?? 0;
    const strongest = found[0]?.effect ?? effect;
    if (effect <= 0 || (round === 1 ? effect < strongest * leastOfSecond : effect < strongest * leastShare))
      break;
    const span = grown({ first: seed, last: seed, effect }, tokens, isWord, effectOf);
    found.push(span);
    covered += span.effect;
    if (round > 0 && covered >= enough * all) break;
    leads = leads.filter((lead) => lead.last < span.first || lead.first > span.last);
    for (let i = span.first; i <= span.last; i++) isWord[i] = false;
  }
  return [...new Set(joined(found, tokens).map(({ start, end }) => text.slice(start, end)))];
}

/** A word with the neighbors that do much together with it, and the negation before it. */
function grown(
  seed: Span,
  tokens: readonly Token[],
  isWord: readonly boolean[],
  effectOf: (first: number, last: number) => number,
): Span {
  const least = seed.effect * leastOfNeighbor;
  const clause = tokens[seed.first]?.clause;
  const mayEnd = (i: number): boolean =>
    tokens[i]?.clause === clause && (isWord[i] === true || tokens[i]?.word === 'not');
  let span = seed;
  for (;;) {
    const wider: Span[] = [];
    // A joining word between two that count comes along.
    for (const step of [1, 2]) {
      if (mayEnd(span.first - step)) wider.push({ ...span, first: span.first - step });
      if (isWord[span.last + step] && mayEnd(span.last + step))
        wider.push({ ...span, last: span.last + step });
    }
    const best = wider
      .filter(({ first, last }) => last - first < mostTokens)
      .map(({ first, last }) => ({ first, last, effect: effectOf(first, last) }))
      .sort((a, b) => b.effect - a.effect)[0];
    if (!best || best.effect - span.effect < least) return span;
    span = best;
  }
}

/** In the order of the text; spans with nothing but a space between them are one, and so are two tokens of one word. */
function joined(spans: readonly Span[], tokens: readonly Token[]): { start: number; end: number }[] {
  const out: { start: number; end: number; last: number }[] = [];
  for (const { first, last } of [...spans].sort((a, b) => a.first - b.first)) {
    const start = tokens[first]?.start ?? 0;
    const end = Math.max(...tokens.slice(first, last + 1).map((token) => token.end));
    const before = out.at(-1);
    if (
      before &&
      start <= before.end + 1 &&
      first - before.last <= 1 &&
      tokens[first]?.clause === tokens[before.last]?.clause
    ) {
      before.end = Math.max(before.end, end);
      before.last = last;
    } else out.push({ start, end, last });
  }
  return out;
}

/** A sentence from the words that count. */
export function reason(words: readonly string[]): string {
  if (words.length === 0) return 'By the text as a whole; no single word decides.';
  return `Riders say ${words.map((word) => `“${word.replace(/\s+/g, ' ')}”`).join(', ')} when they mean this.`;
}
