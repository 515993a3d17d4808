import { type Book, candidateCauses, type Symptom } from '../book/index.ts';
import { separatingQuestion } from './ask.ts';
import { countingWords, reason } from './explain.ts';
import { type FreshPhrase, freshPull, underLabels } from './fresh-phrases.ts';
import { type Keeper, type LearnedBook, learnBook, textsOf } from './learn-book.ts';
import { learnedPull } from './learned-words.ts';
import { readValues, type TextReading } from './read-values.ts';
import { isOutOfScope, namesCombustion } from './scope.ts';

export interface SymptomMatch {
  symptomId: string;
  title: string;
  system: string;
  /** 0 to 1: the share of such texts that mean this symptom, as far as the book's phrases tell. */
  score: number;
  /** In words, why this symptom. */
  why: string;
  /** The words of the text that count, as typed. */
  words: string[];
}

export interface Found {
  /** Best first; empty when nothing fits. */
  matches: SymptomMatch[];
  outOfScope?: { kind: 'not-a-fault' | 'electric-drive'; say: string };
  /** The one question that separates the symptoms which compete. */
  question?: { ask: string; answers: { say: string; symptomId: string }[] };
  readings?: TextReading[];
}

export interface Finder {
  /**
   * @param text what the customer said; any length, any script
   * @param options.limit at most this many matches
   * @param options.modelId puts back symptoms which no cause of the book can give on that machine
   */
  find(text: string, options: { readonly limit: number; readonly modelId?: string }): Found;
}

/** Words that somebody in this shop gave to a symptom. */
export interface LearnedWords {
  readonly symptomId: string;
  readonly text: string;
}

const say = {
  'not-a-fault': 'This does not read like a fault of a scooter. Ask what the scooter does, or does not do.',
  'electric-drive':
    'This is about a scooter with electric drive. The book covers scooters with a combustion engine, 50 to 300 cm³.',
} as const;

/** A match below this share is noise. */
const leastShare = 0.008;
/** What is left of the share of a symptom that no listed cause can give on the machine. */
const onOtherMachine = 0.1;
/** Where nothing reads a story, its first thousand words tell enough. */
const mostCharacters = 12_000;

/**
 * Learns the words of a book (five to ten seconds for thirty thousand phrases, done once for the same words) and answers
 * complaints with symptoms. The same book, learned words and text give the same answer.
 * @param learned words a shop gave to symptoms; for the same text they come first, for a similar one they help. Words for a symptom
 *   that the book no longer has are left aside.
 * @param keeperFor gives, for all texts that are learned from, the place where the trained numbers are kept between two starts
 */
export function createFinder(
  book: Book,
  learned: readonly LearnedWords[],
  keeperFor: ((texts: string) => Keeper) | null = null,
): Finder {
  return finderOn(learnedOnce(book, keeperFor), book, learned);
}

/**
 * Answers from what was learned already. It may be of an earlier state of the book: then `fresh` names the phrases which it
 * lacks, and these are found by their words.
 */
export function finderOn(
  learnedBook: LearnedBook,
  book: Book,
  learned: readonly LearnedWords[],
  fresh: readonly FreshPhrase[] = [],
): Finder {
  const symptoms: readonly Symptom[] = [...book.symptoms.values()];
  const labels = new Map<string, number>(symptoms.map((symptom, label) => [symptom.id, label]));
  const isSame =
    learnedBook.symptomIds.length === symptoms.length &&
    symptoms.every(({ id }, label) => learnedBook.symptomIds[label] === id);
  const knowledge = isSame
    ? learnedBook
    : underLabels(
        learnedBook,
        symptoms.map(({ id }) => id),
      );
  const pullFresh = freshPull(labels, fresh);
  const pullLearned = learnedPull(knowledge, labels, learned);
  const impossible = impossibleOn(book, symptoms);

  return {
    find(whole, { limit, modelId }) {
      const text = whole.slice(0, mostCharacters);
      const values = readValues(text);
      const readings = values.length > 0 ? { readings: values } : {};
      const tokens = knowledge.tokenizer.tokens(text);
      if (tokens.length === 0) return { matches: [], ...readings };
      const known = knowledge.shares(tokens);
      const shares = known ?? new Float32Array(symptoms.length + 2);
      const isFresh = pullFresh(text, shares);
      const isTaught = pullLearned(tokens, known) || isFresh;
      if (!known && !isFresh) return { matches: [], outOfScope: outOfScope('not-a-fault'), ...readings };
      if (!isTaught && isOutOfScope(knowledge, tokens, shares)) {
        const isElectric =
          !namesCombustion(tokens) &&
          (shares[knowledge.electricDrive] as number) > (shares[knowledge.notAFault] as number);
        return {
          matches: [],
          outOfScope: outOfScope(isElectric ? 'electric-drive' : 'not-a-fault'),
          ...readings,
        };
      }
      const shareOf = sharesOfSymptoms(shares, symptoms.length, modelId ? impossible(modelId) : undefined);
      const order = [...shareOf.keys()].sort(
        (a, b) => (shareOf[b] as number) - (shareOf[a] as number) || a - b,
      );
      const matches = order
        .filter((label) => (shareOf[label] as number) >= leastShare)
        .slice(0, limit)
        .map((label, place) => {
          const { id, title, system } = symptoms[label] as Symptom;
          const words = countingWords(
            knowledge,
            text,
            tokens,
            label,
            (place === 0 ? order[1] : order[0]) ?? knowledge.notAFault,
          );
          const score = Math.round((shareOf[label] as number) * 1e4) / 1e4;
          return { symptomId: id, title, system, score, why: reason(words), words };
        });
      const question = separatingQuestion(book.questions, matches);
      return { matches, ...(question ? { question } : {}), ...readings };
    },
  };
}

const outOfScope = (kind: keyof typeof say): NonNullable<Found['outOfScope']> => ({ kind, say: say[kind] });

/** Shares among the symptoms alone, summing to 1. */
function sharesOfSymptoms(
  shares: Float32Array,
  count: number,
  impossible: ReadonlySet<number> | undefined,
): Float64Array {
  const out = Float64Array.from(
    shares.subarray(0, count),
    (share, label) => share * (impossible?.has(label) ? onOtherMachine : 1),
  );
  const sum = out.reduce((a, b) => a + b, 0);
  return sum > 0 ? out.map((share) => share / sum) : out;
}

/** Labels of the symptoms whose every listed cause is ruled out by the model's traits. */
function impossibleOn(
  book: Book,
  symptoms: readonly Symptom[],
): (modelId: string) => ReadonlySet<number> | undefined {
  const known = new Map<string, ReadonlySet<number>>();
  const models = new Map<string, Book['models'] extends ReadonlyMap<unknown, infer M> ? M : never>(
    book.models,
  );
  return (modelId) => {
    const model = models.get(modelId);
    if (!model) return undefined;
    let found = known.get(modelId);
    if (!found) {
      found = new Set(
        [...symptoms.keys()].filter((label) => {
          const symptom = symptoms[label] as Symptom;
          return symptom.priors.length > 0 && candidateCauses(book, symptom, model.traits).length === 0;
        }),
      );
      known.set(modelId, found);
    }
    return found;
  };
}

// Learning takes a second and depends on the words alone, and a book is built anew for every change of anything in it:
// the last result is kept, so that a corrected torque or a learned complaint costs nothing here.
let lastKnowledge: { readonly texts: string; readonly knowledge: LearnedBook } | null = null;

function learnedOnce(book: Book, keeperFor: ((texts: string) => Keeper) | null): LearnedBook {
  const texts = textsOf(book);
  if (lastKnowledge?.texts !== texts)
    lastKnowledge = { texts, knowledge: learnBook(book, keeperFor?.(texts) ?? null) };
  return lastKnowledge.knowledge;
}
