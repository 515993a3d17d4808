import type { Sparse } from './encoder.ts';

/** What the training leaves: for each feature one number a class. */
export interface Weights {
  readonly classes: number;
  /** Of feature f for class c at f × classes + c. */
  readonly values: Float32Array;
}

/** Counts up with every change of this file, the encoder or the normalizer, so that numbers kept by an older method are not taken. */
export const methodOfTraining = 1;

const epochs = 4;
const rate = 2;
/** Classes whose share is off by less than this are left alone; it saves most of the time and changes no ranking. */
const smallError = 0.01;

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

/**
 * Multinomial logistic regression by stochastic gradient steps whose length falls per feature with what it has seen
 * (AdaGrad: Duchi, Hazan & Singer 2011). The order of the texts comes from a fixed linear congruence (multiplier and
 * increment of Numerical Recipes), so that the same texts give the same weights on every machine.
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
  let state = 12345;
  for (let epoch = 0; epoch < epochs; epoch++) {
    for (let i = order.length - 1; i > 0; i--) {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const j = state % (i + 1);
      const held = order[i] as number;
      order[i] = order[j] as number;
      order[j] = held;
    }
    for (const index of order) {
      const text = texts[index] as Sparse;
      const label = labels[index] as number;
      scoreInto(model, text, scores);
      toShares(scores);
      scores[label] = (scores[label] as number) - 1;
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
        const seen = (squares[id] as number) + square * value * value;
        squares[id] = seen;
        const step = (rate * value) / Math.sqrt(seen);
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
