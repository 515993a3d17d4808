export {
  createFinder,
  type Finder,
  type Found,
  finderOn,
  type LearnedWords,
  type SymptomMatch,
} from './finder.ts';
export { freshPhrases } from './fresh-phrases.ts';
export {
  type BookWords,
  isTrained,
  type Keeper,
  knowledgeFrom,
  type LearnedBook,
  type TrainedWords,
  textsOf,
  trainWords,
  wordsOf,
} from './learn-book.ts';
export type { TextReading } from './read-values.ts';
export { methodOfTraining } from './train-weights.ts';
