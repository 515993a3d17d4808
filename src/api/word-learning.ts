import type { Book } from '../book/index.ts';
import { digestOf, keptNumbers } from '../store/index.ts';
import {
  type BookWords,
  createFinder,
  type Finder,
  finderOn,
  freshPhrases,
  isTrained,
  knowledgeFrom,
  type LearnedBook,
  type LearnedWords,
  methodOfTraining,
  type TrainedWords,
  textsOf,
  trainWords,
  wordsOf,
} from '../symptom/index.ts';

/** Where trained numbers are kept between two starts. */
export interface NumbersPlace {
  readonly dataFolder: string;
  readonly learnedFolder: string | undefined;
}

export interface LearningJob extends NumbersPlace {
  readonly words: BookWords;
  /** Of the numbers, by the texts they are learned from. */
  readonly name: string;
}

/** Learns in another thread. Must reject once the signal is aborted, and may then drop what it did. */
export type LearnApart = (job: LearningJob, signal: AbortSignal) => Promise<TrainedWords>;

const placed = ({ dataFolder, learnedFolder }: NumbersPlace, name: string) =>
  keptNumbers(dataFolder, learnedFolder, name);

const nameOf = (texts: string): string => `search-${methodOfTraining}-${digestOf(texts).slice(0, 16)}`;

/** What the other thread runs. Saves nothing, so that it may be ended at any moment. */
export const learnWords = (job: LearningJob): TrainedWords => trainWords(job.words, placed(job, job.name));

/**
 * Gives each state of the book its search. With a thread to learn in, a changed book is answered from the numbers before and its new
 * phrases by their words, until its own numbers are there. One training runs at a time: a further change ends it and starts
 * that of the newest words.
 */
export class WordLearning {
  readonly #place: NumbersPlace;
  readonly #apart: LearnApart | undefined;
  #inUse: { readonly texts: string; readonly words: BookWords; readonly knowledge: LearnedBook } | null =
    null;
  #running: { readonly texts: string; readonly stop: AbortController; readonly done: Promise<void> } | null =
    null;
  /** Words whose training failed; it is not tried again before they change. */
  #failed: string | null = null;
  #turn = 0;
  #isClosed = false;

  constructor(place: NumbersPlace, apart?: LearnApart) {
    this.#place = place;
    this.#apart = apart;
  }

  /** The search of a state of the book; asked again, it answers with the best numbers there are by then. */
  searchOf(book: Book, learned: readonly LearnedWords[]): () => Promise<Finder> {
    this.#turn += 1;
    const turn = this.#turn;
    let texts: string | null = null;
    let last: { readonly knowledge: LearnedBook; readonly finder: Finder } | null = null;
    let here: Finder | null = null;
    const learnHere = (): Finder => {
      here ??= createFinder(book, learned, (all) => placed(this.#place, nameOf(all)));
      return here;
    };
    return async () => {
      if (!this.#apart || !isTrained(book)) return learnHere();
      texts ??= textsOf(book);
      // A step that still holds an earlier state of the book must not turn the training back.
      if (turn === this.#turn) this.#want(texts, book);
      if (!this.#inUse) await this.#running?.done;
      const inUse = this.#inUse;
      if (!inUse) return learnHere();
      if (last?.knowledge !== inUse.knowledge)
        last = {
          knowledge: inUse.knowledge,
          finder: finderOn(
            inUse.knowledge,
            book,
            learned,
            inUse.texts === texts ? [] : freshPhrases(inUse.words, book),
          ),
        };
      return last.finder;
    };
  }

  /** Ends a training that runs; nothing of it is kept. */
  close(): void {
    this.#isClosed = true;
    this.#running?.stop.abort();
    this.#running = null;
  }

  #want(texts: string, book: Book): void {
    if (this.#running?.texts === texts || this.#isClosed || !this.#apart) return;
    this.#running?.stop.abort();
    this.#running = null;
    if (this.#inUse?.texts === texts || this.#failed === texts) return;
    const stop = new AbortController();
    const words = wordsOf(book);
    const name = nameOf(texts);
    const done = this.#apart({ ...this.#place, words, name }, stop.signal).then(
      (trained) => {
        if (stop.signal.aborted) return;
        this.#running = null;
        this.#failed = null;
        this.#inUse = { texts, words, knowledge: knowledgeFrom(trained) };
        if (trained.isFresh) placed(this.#place, name).save(trained.numbers);
      },
      (error: unknown) => {
        if (stop.signal.aborted) return;
        this.#running = null;
        this.#failed = texts;
        console.error(error);
      },
    );
    this.#running = { texts, stop, done };
  }
}
