export { createFinder, type Finder, type Found, type LearnedWords, type SymptomMatch } from './finder.ts';
export type { Keeper } from './learn-book.ts';
export type { TextReading } from './read-values.ts';
export { methodOfTraining } from './train-weights.ts';
