import { learnWords } from '../build/scripts/learn-words.ts';

/** The words of the handbook are learned once for all test files, as they are when the program is compiled. */
export default async function setup(): Promise<void> {
  await learnWords();
}
