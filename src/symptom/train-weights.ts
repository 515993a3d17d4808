import { dice, shuffle } from './dice.ts';
import type { Sparse } from './encoder.ts';
import { stepLength } from './step-length.ts';

/** What the training leaves: for each feature one number a class. */
export interface Weights {
  readonly classes: number;
  /** Of feature f for class c at f × classes + c. */
  readonly values: Float32Array;
}

/** Counts up with every change of this file, the net, the encoder or the normalizer, so that numbers kept by an older method are not taken. */
export const methodOfTraining = 3;

/** A small book is looked at more often, up to this many times, until it was looked at so many times in all. */
const mostEpochs = 40;
const leastLooks = 30_000;
export const epochsFor = (texts: number): number =>
  Math.max(5, Math.min(mostEpochs, Math.ceil(leastLooks / Math.max(texts, 1))));

const rate = 3;
/** Share of a text's features hidden at each look, so that no single word decides alone (Hinton et al. 2012). */
const hidden = 0.5;
/** Share of the label given to all classes alike (Szegedy et al. 2016): two symptoms often both fit what a rider says. */
export const smoothing = 0.05;
/** Classes whose share is off by less than this are left alone; it saves time and changes no ranking. */
const smallError = 0.002;

/** Raw scores of a text, one a class. Ids in range are the caller's promise. */
export function scoreInto(
  { classes, values: weights }: Weights,
  { ids, values }: Sparse,
  into: Float32Array,
): void {
  into.fill(0);
  for (let k = 0; k < ids.length; k++) {
    const base = (ids[k] as number) * classes;
    const value = values[k] as number;
    for (let c = 0; c < classes; c++) into[c] = (into[c] as number) + value * (weights[base + c] as number);
  }
}

/** A text with some of its features left out; the rest made longer so that the length stays about the same. */
export function withGaps({ ids, values }: Sparse, share: number, roll: () => number): Sparse {
  const kept = new Int32Array(ids.length);
  const seen = new Float32Array(ids.length);
  const scale = 1 / Math.sqrt(1 - share);
  let count = 0;
  for (let k = 0; k < ids.length; k++) {
    if (roll() < share) continue;
    kept[count] = ids[k] as number;
    seen[count] = (values[k] as number) * scale;
    count += 1;
  }
  return { ids: kept.subarray(0, count), values: seen.subarray(0, count) };
}

/** Turns raw scores into what they are too much for a label, in place. */
export function toErrors(scores: Float32Array, label: number): void {
  toShares(scores);
  for (let c = 0; c < scores.length; c++) scores[c] = (scores[c] as number) - smoothing / scores.length;
  scores[label] = (scores[label] as number) - (1 - smoothing);
}

/**
 * Multinomial logistic regression by stochastic gradient steps whose length falls per feature with what it has seen. Order and gaps come from fixed dice, so that the same texts give the same
 * weights on every machine.
 */
export function trainWeights(
  texts: readonly Sparse[],
  labels: readonly number[],
  classes: number,
  features: number,
): Weights {
  const weights = new Float32Array(features * classes);
  const squares = new Float32Array(features).fill(0.1);
  const model = { classes, values: weights };
  const scores = new Float32Array(classes);
  const wrong = new Int32Array(classes);
  const order = Int32Array.from(texts.keys());
  const roll = dice(12345);
  for (let epoch = 0; epoch < epochsFor(texts.length); epoch++) {
    shuffle(order, roll);
    for (const index of order) {
      const text = withGaps(texts[index] as Sparse, hidden, roll);
      scoreInto(model, text, scores);
      toErrors(scores, labels[index] as number);
      let count = 0;
      let square = 0;
      for (let c = 0; c < classes; c++) {
        const error = scores[c] as number;
        if (error <= smallError && error >= -smallError) continue;
        wrong[count] = c;
        count += 1;
        square += error * error;
      }
      if (count === 0) continue;
      const { ids, values } = text;
      for (let k = 0; k < ids.length; k++) {
        const id = ids[k] as number;
        const value = values[k] as number;
        const step = stepLength(squares, id, square * value * value, rate * value);
        const base = id * classes;
        for (let a = 0; a < count; a++) {
          const c = wrong[a] as number;
          weights[base + c] = (weights[base + c] as number) - step * (scores[c] as number);
        }
      }
    }
  }
  return model;
}

/** Turns raw scores into shares that sum to 1, in place. */
export function toShares(scores: Float32Array): void {
  let top = Number.NEGATIVE_INFINITY;
  for (let c = 0; c < scores.length; c++) if ((scores[c] as number) > top) top = scores[c] as number;
  let sum = 0;
  for (let c = 0; c < scores.length; c++) {
    const share = Math.exp((scores[c] as number) - top);
    scores[c] = share;
    sum += share;
  }
  for (let c = 0; c < scores.length; c++) scores[c] = (scores[c] as number) / sum;
}
