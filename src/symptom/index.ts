export { createFinder, type Finder, type Found, type LearnedWords, type SymptomMatch } from './finder.ts';
export type { TextReading } from './read-values.ts';
