import type { Book, Symptom } from '../book/index.ts';
import { centroidScorer } from './centroid-scorer.ts';
import { contrastTexts, storyTexts } from './contrast-texts.ts';
import { Encoder, type EncoderState, type Sparse } from './encoder.ts';
import { mender } from './mend-words.ts';
import { type Token, Tokenizer } from './normalize-text.ts';
import { addNetScores, netPull, netSize, trainNet } from './train-net.ts';
import { scoreInto, toShares, trainWeights } from './train-weights.ts';

/** A feature of a single text teaches nothing that holds for the next. */
const leastTexts = 2;
const storyCount = 800;
/** Above this many symptoms a full matrix of weights would not fit; the words themselves are compared then. */
const mostTrained = 400;

/** What of a book is learned from. */
export type BookWords = Pick<Book, 'phrases' | 'outOfScope' | 'electricDrive'> & {
  readonly symptoms: ReadonlyMap<Symptom['id'], Pick<Symptom, 'id' | 'title' | 'meaning'>>;
};

/** The words of a book without anything else, so that they can be sent to another thread. */
export const wordsOf = (book: Book): BookWords => ({
  symptoms: new Map(
    [...book.symptoms.values()].map(({ id, title, meaning }) => [id, { id, title, meaning }]),
  ),
  phrases: book.phrases,
  outOfScope: book.outOfScope,
  electricDrive: book.electricDrive,
});

/** All that is learned from, as one text: the same text gives the same numbers. */
export const textsOf = (book: BookWords): string =>
  JSON.stringify([
    [...book.symptoms.values()].map(({ id, title, meaning }) => [
      id,
      title,
      meaning,
      book.phrases.get(id) ?? [],
    ]),
    book.outOfScope,
    book.electricDrive,
  ]);

/** True where numbers are trained for the book; a larger book compares words and trains nothing. */
export const isTrained = (book: BookWords): boolean => book.symptoms.size <= mostTrained;

/** What the training of a book's words left, in a form that can be sent to another thread. */
export interface TrainedWords {
  readonly symptomIds: readonly string[];
  /** How often the book uses each word. */
  readonly counts: ReadonlyMap<string, number>;
  readonly encoder: EncoderState;
  readonly numbers: Float32Array;
  /** Trained now, not taken from what was kept. */
  readonly isFresh: boolean;
}

/** What a book taught about words. Labels count its symptoms in their order; two more stand for what is out of scope. */
export interface LearnedBook {
  /** Of the symptoms, by label. */
  readonly symptomIds: readonly string[];
  readonly tokenizer: Tokenizer;
  readonly encoder: Encoder;
  readonly notAFault: number;
  readonly electricDrive: number;
  /** Shares of all labels, summing to 1; null where the text has nothing the book knows. */
  shares(tokens: readonly Token[]): Float32Array | null;
  /** A text as numbers, for comparing texts: the dot product of two is their cosine. */
  sparse(tokens: readonly Token[]): Sparse;
  /** For one text and label: what a feature adds to the label's score, for each unit of its weight before rarity. */
  pull(tokens: readonly Token[], label: number): (id: number) => number;
}

/**
 * Where the trained numbers of a book's words may be kept between two starts. What it gives back must be what was saved for the
 * same words by the same method.
 */
export interface Keeper {
  load(): Float32Array | null;
  save(values: Float32Array): void;
}

interface ReadBook {
  readonly symptomIds: readonly string[];
  readonly counts: ReadonlyMap<string, number>;
  readonly encoder: Encoder;
  readonly rows: readonly Sparse[];
  /** Of each row. */
  readonly labels: readonly number[];
}

function readBook(book: BookWords): ReadBook {
  const labels = new Map<string, number>();
  const tokenizer = new Tokenizer();
  const encoder = new Encoder();
  const texts: Token[][] = [];
  const ofText: number[] = [];
  const add = (text: string, label: number | undefined): void => {
    if (label === undefined) return;
    texts.push(tokenizer.tokens(text));
    ofText.push(label);
  };
  for (const symptom of book.symptoms.values()) {
    const label = labels.size;
    labels.set(symptom.id, label);
    add(symptom.title, label);
    add(symptom.meaning, label);
    for (const phrase of book.phrases.get(symptom.id) ?? []) add(phrase, label);
  }
  const notAFault = labels.size;
  const electricDrive = labels.size + 1;
  for (const text of book.outOfScope) add(text, notAFault);
  for (const text of book.electricDrive) add(text, electricDrive);
  // A book that names nothing out of scope rejects nothing.
  if (book.outOfScope.length > 0 && book.electricDrive.length > 0) {
    for (const { text, is } of contrastTexts(book)) {
      if (is === 'not-a-fault') add(text, notAFault);
      else if (is === 'electric-drive') add(text, electricDrive);
      else add(text, labels.get(is.symptomId));
    }
    for (const { text, symptomId } of storyTexts(book, storyCount)) add(text, labels.get(symptomId));
  }

  const counts = new Map<string, number>();
  const found = texts.map((tokens) => {
    for (const { word } of tokens) counts.set(word, (counts.get(word) ?? 0) + 1);
    const features = encoder.features(tokens);
    encoder.count(features);
    return features;
  });
  const renumbered = encoder.close(leastTexts, texts.length);
  const rows = found.map((features) => encoder.weighted(features, renumbered));
  return { symptomIds: [...labels.keys()], counts, encoder, rows, labels: ofText };
}

/** Learns the words of a book. The same book gives the same result. */
export function learnBook(book: BookWords, keeper: Keeper | null = null): LearnedBook {
  if (isTrained(book)) {
    const trained = trainWords(book, keeper);
    if (trained.isFresh) keeper?.save(trained.numbers);
    return knowledgeFrom(trained);
  }
  const read = readBook(book);
  return knowledgeOf(read, centroidScorer(read.rows, read.labels, read.symptomIds.length + 2));
}

/**
 * The part of learning that takes seconds, for a thread of its own. Nothing is saved.
 * @param book of no more symptoms than are trained, see `isTrained`
 */
export function trainWords(book: BookWords, keeper: Pick<Keeper, 'load'> | null): TrainedWords {
  const { symptomIds, counts, encoder, rows, labels } = readBook(book);
  const classes = symptomIds.length + 2;
  const features = encoder.size;
  const size = netSize(features, classes);
  const innerFrom = features * classes;
  const outerFrom = innerFrom + size.inner;
  let numbers = keeper?.load() ?? null;
  const isFresh = numbers?.length !== outerFrom + size.outer;
  if (!numbers || isFresh) {
    const trained = trainNet(rows, labels, classes, features);
    numbers = new Float32Array(outerFrom + size.outer);
    numbers.set(trainWeights(rows, labels, classes, features).values);
    numbers.set(trained.inner, innerFrom);
    numbers.set(trained.outer, outerFrom);
  }
  return { symptomIds, counts, encoder: encoder.state(), numbers, isFresh };
}

/** What a training left, ready to answer. */
export function knowledgeFrom(trained: TrainedWords): LearnedBook {
  const { symptomIds, counts, numbers } = trained;
  const encoder = Encoder.of(trained.encoder);
  return knowledgeOf(
    { symptomIds, counts, encoder },
    trainedScorer(numbers, encoder.size, symptomIds.length + 2),
  );
}

function knowledgeOf(
  { symptomIds, counts, encoder }: Pick<ReadBook, 'symptomIds' | 'counts' | 'encoder'>,
  scorer: Scorer,
): LearnedBook {
  const notAFault = symptomIds.length;
  const electricDrive = notAFault + 1;
  const classes = notAFault + 2;
  const tokenizer = new Tokenizer();
  tokenizer.mendWith(mender(counts));
  return {
    symptomIds,
    tokenizer,
    encoder,
    notAFault,
    electricDrive,
    shares(tokens) {
      const sparse = encoder.weighted(encoder.features(tokens));
      if (sparse.ids.length === 0) return null;
      const scores = new Float32Array(classes);
      scorer.scoreInto(sparse, scores);
      toShares(scores);
      return scores;
    },
    sparse: (tokens) => encoder.weighted(encoder.features(tokens)),
    pull(tokens, label) {
      const pull = scorer.pull(encoder.weighted(encoder.features(tokens)), label);
      return (id) => pull(id) * encoder.rarity(id);
    },
  };
}

interface Scorer {
  scoreInto(text: Sparse, into: Float32Array): void;
  pull(text: Sparse, label: number): (id: number) => number;
}

/** Brings the sum of both models' scores to shares that are right about as often as they say; measured on held-out phrases. */
const sharpness = 0.6;

/** Weights and a small net, trained on the same texts: what one gets wrong the other often does not. */
function trainedScorer(all: Float32Array, features: number, classes: number): Scorer {
  const size = netSize(features, classes);
  const innerFrom = features * classes;
  const outerFrom = innerFrom + size.inner;
  const weights = { classes, values: all.subarray(0, innerFrom) };
  const net = { classes, inner: all.subarray(innerFrom, outerFrom), outer: all.subarray(outerFrom) };
  return {
    scoreInto(text, into) {
      scoreInto(weights, text, into);
      addNetScores(net, text, into);
      for (let c = 0; c < classes; c++) into[c] = (into[c] as number) * sharpness;
    },
    pull(text, label) {
      const pull = netPull(net, text, label);
      return (id) => sharpness * ((weights.values[id * classes + label] ?? 0) + pull(id));
    },
  };
}
