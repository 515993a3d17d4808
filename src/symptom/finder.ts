import type { Book } from '../book/index.ts';
import { type Example, trainClassifier } from './classifier.ts';
import { featuresOf } from './features.ts';
import { type Token, tokensOf } from './normalize-text.ts';
import { readValues, type TextReading } from './read-values.ts';

export interface SymptomMatch {
  symptomId: string;
  title: string;
  system: string;
  /** 0 to 1. */
  score: number;
  why: string;
  /** The words of the text that count, as typed. */
  words: string[];
}

export interface Found {
  matches: SymptomMatch[];
  outOfScope?: { kind: 'not-a-fault' | 'electric-drive'; say: string };
  question?: { ask: string; answers: { say: string; symptomId: string }[] };
  readings?: TextReading[];
}

export interface Finder {
  find(text: string, options: { limit: number; modelId?: string }): Found;
}

/** Words a person gave to a symptom in this shop. */
export interface LearnedWords {
  readonly symptomId: string;
  readonly text: string;
}

const sayNotAFault =
  'This does not read like a fault of a scooter. Ask what the scooter does, or does not do.';
const sayElectric =
  'This is about a scooter with electric drive. The book covers scooters with a combustion engine, 50 to 300 cm³.';

/** Trains on the book's titles, meanings and phrases and on the shop's learned words, and answers complaints with symptoms. */
export function createFinder(book: Book, learned: readonly LearnedWords[]): Finder {
  const symptoms = [...book.symptoms.values()];
  const labels = new Map<string, number>(symptoms.map((symptom, label) => [symptom.id, label]));
  const examples: Example[] = [];
  const add = (text: string, label: number): void => {
    examples.push({ features: featuresOf(tokensOf(text)), label });
  };
  for (const [label, symptom] of symptoms.entries()) {
    add(symptom.title, label);
    add(symptom.meaning, label);
    for (const phrase of book.phrases.get(symptom.id) ?? []) add(phrase, label);
  }
  const notAFault = symptoms.length;
  const electric = symptoms.length + 1;
  for (const text of book.outOfScope) add(text, notAFault);
  for (const text of book.electricDrive) add(text, electric);
  for (const { symptomId, text } of learned) {
    const label = labels.get(symptomId);
    if (label !== undefined) for (let i = 0; i < 3; i++) add(text, label);
  }
  const classifier = trainClassifier(examples, symptoms.length + 2, { epochs: 4, rate: 0.5, minCount: 2 });

  return {
    find(text, { limit }) {
      const tokens = tokensOf(text);
      const features = featuresOf(tokens);
      const sparse = classifier.sparse(features);
      const readings = readValues(text);
      const extra = readings.length > 0 ? { readings } : {};
      if (sparse.ids.length === 0) return { matches: [], ...extra };
      const shares = softmax(classifier.scores(sparse));
      const order = [...shares.keys()].sort((a, b) => (shares[b] as number) - (shares[a] as number));
      const first = order[0] as number;
      if (first === notAFault)
        return { matches: [], outOfScope: { kind: 'not-a-fault', say: sayNotAFault }, ...extra };
      if (first === electric)
        return { matches: [], outOfScope: { kind: 'electric-drive', say: sayElectric }, ...extra };
      const matches = order
        .filter((label) => label < symptoms.length)
        .slice(0, limit)
        .filter((label) => (shares[label] as number) > 0.01)
        .map((label) => {
          const symptom = symptoms[label] as (typeof symptoms)[number];
          const words = countingWords(text, tokens, label);
          return {
            symptomId: symptom.id as string,
            title: symptom.title,
            system: symptom.system as string,
            score: Math.min(1, shares[label] as number),
            why:
              words.length > 0
                ? `because of ${words.map((word) => `“${word}”`).join(', ')}`
                : 'by the text as a whole',
            words,
          };
        });
      return { matches, ...extra };
    },
  };

  function countingWords(text: string, tokens: readonly Token[], label: number): string[] {
    const pulls = tokens.map(() => 0);
    for (const feature of featuresOf(tokens)) {
      const pull =
        (classifier.pull(feature.name, label) * feature.weight) / (feature.last - feature.first + 1);
      for (let i = feature.first; i <= feature.last; i++) pulls[i] = (pulls[i] as number) + pull;
    }
    const best = Math.max(...pulls);
    if (!(best > 0)) return [];
    return [
      ...new Set(
        tokens
          .filter((_, i) => (pulls[i] as number) > best * 0.35)
          .map((token) => text.slice(token.start, token.end)),
      ),
    ].slice(0, 8);
  }
}

function softmax(scores: Float32Array): Float64Array {
  const top = scores.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const out = Float64Array.from(scores, (score) => Math.exp(score - top));
  const sum = out.reduce((a, b) => a + b, 0);
  return out.map((value) => value / sum);
}
