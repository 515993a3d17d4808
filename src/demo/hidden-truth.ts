import { type Book, type Cause, candidateCauses, type Model, type Symptom } from '../book/index.ts';
import { createDice } from './dice.ts';

/** What really is the matter with each model: the book does not know it, the closed jobs show it. */
export interface Truth {
  /** The causes of a symptom on a model with their true shares (any scale); the last place is "not in the book". */
  causesOf(
    model: Model,
    symptom: Symptom,
  ): { readonly causes: readonly Cause[]; readonly weights: readonly number[] };
  /** How often a symptom comes in, relative to the others, on a model in a month (0 = January). */
  rateOf(model: Model, symptom: Symptom, month: number): number;
}

/** Complaints that come in more often than others; one that is not named has 1. Values of the invented town. */
const often: Readonly<Record<string, number>> = {
  'start-dead': 7,
  'start-click': 6,
  'start-slow': 4,
  'start-intermittent': 3,
  'no-power': 3,
  'battery-overnight': 8,
  'battery-not-charging': 5,
  'crank-no-start': 6,
  'hard-start-cold': 4,
  'starts-then-dies': 3,
  'stalls-at-idle': 4,
  'low-power': 4,
  'idle-rough': 3,
  hesitates: 2,
  misfire: 2,
  'drive-slips': 5,
  'no-drive': 2,
  'drive-judder': 3,
  'drive-noise': 3,
  'brake-weak': 4,
  'brake-noise': 4,
  'brake-drags': 2,
  'brake-spongy': 2,
  'headlamp-out': 3,
  'indicators-dead': 2,
  'tire-loses-air': 4,
  'oil-leak': 3,
  'fuel-smell': 2,
  'steering-heavy': 2,
  'wheel-bearing': 2,
  'exhaust-loud': 2,
  overheats: 2,
};

/** More of these in the cold months, fewer in the warm ones; the other way round for the second list. */
const coldTrouble = [
  'battery-overnight',
  'start-slow',
  'hard-start-cold',
  'start-click',
  'start-dead',
  'cuts-out-wet',
];
const warmTrouble = [
  'overheats',
  'coolant-leak',
  'fan-dead',
  'hard-start-hot',
  'tire-loses-air',
  'overcharging',
];

const seasonOf = (symptom: string, month: number): number => {
  // 1 in mid January, -1 in mid July.
  const cold = Math.cos((2 * Math.PI * month) / 12);
  if (coldTrouble.includes(symptom)) return 1 + 0.55 * cold;
  if (warmTrouble.includes(symptom)) return 1 - 0.55 * cold;
  return 1;
};

/** A number from the words, so that each pair of model and cause has its own luck whatever the order of asking. */
function seedOf(...words: readonly (string | number)[]): number {
  let hash = 2166136261;
  for (const sign of words.join('\u0000')) hash = Math.imul(hash ^ (sign.codePointAt(0) ?? 0), 16777619);
  return (hash >>> 0) + 1;
}

/** Spread of the logarithm of a cause's share: between engine families, and between the models of one. */
const familySpread = 0.6;
const modelSpread = 0.8;

export function hiddenTruth(book: Book, seed: number): Truth {
  const known = new Map<string, ReturnType<Truth['causesOf']>>();
  /** Each throw of seeded dice costs a whole new generator, so the luck of a pair is thrown once. */
  const lucks = new Map<string, number>();
  return {
    causesOf(model, symptom) {
      const key = `${model.id} ${symptom.id}`;
      const found = known.get(key);
      if (found) return found;
      const candidates = candidateCauses(book, symptom, model.traits);
      const luck = (spread: number, ...words: string[]): number =>
        Math.exp(spread * createDice(seedOf(seed, symptom.id, ...words)).normal());
      const weights = candidates.map(
        ({ cause, of100 }) =>
          of100 * luck(familySpread, model.familyId, cause.id) * luck(modelSpread, model.id, cause.id),
      );
      const made = {
        causes: candidates.map(({ cause }) => cause),
        weights: [...weights, symptom.unlistedOf100 * 0.6],
      };
      known.set(key, made);
      return made;
    },
    rateOf(model, symptom, month) {
      const key = `${model.id} ${symptom.id}`;
      const luck =
        lucks.get(key) ??
        (candidateCauses(book, symptom, model.traits).length === 0
          ? 0
          : Math.exp(0.4 * createDice(seedOf(seed, model.id, symptom.id)).normal()));
      lucks.set(key, luck);
      return (often[symptom.id] ?? 1) * luck * seasonOf(symptom.id, month);
    },
  };
}
