import { dice, shuffle } from './dice.ts';
import type { Sparse } from './encoder.ts';
import { stepLength } from './step-length.ts';
import { epochsFor, toErrors, withGaps } from './train-weights.ts';

/** Units of the hidden layer: what the features of a text have in common, as many numbers. */
export const hiddenUnits = 64;

/** A net with one hidden layer of rectified linear units. */
export interface Net {
  readonly classes: number;
  /** Of feature f for unit h at f × units + h. */
  readonly inner: Float32Array;
  /** Of unit h for class c at h × classes + c; behind them one number a class that is always added. */
  readonly outer: Float32Array;
}

const rate = 0.8;
const hidden = 0.4;
const seedOfStart = 3;
/** Widest number of the inner layer before training. */
const widestStart = 0.3;

export const netSize = (features: number, classes: number): { inner: number; outer: number } => ({
  inner: features * hiddenUnits,
  outer: (hiddenUnits + 1) * classes,
});

/** What the hidden units answer to a text; negative ones are silent, and stay 0. */
function unitsInto(inner: Float32Array, { ids, values }: Sparse, into: Float32Array): void {
  into.fill(0);
  for (let k = 0; k < ids.length; k++) {
    const base = (ids[k] as number) * hiddenUnits;
    const value = values[k] as number;
    for (let h = 0; h < hiddenUnits; h++) into[h] = (into[h] as number) + value * (inner[base + h] as number);
  }
  for (let h = 0; h < hiddenUnits; h++) if ((into[h] as number) < 0) into[h] = 0;
}

function addScores({ classes, outer }: Net, units: Float32Array, into: Float32Array): void {
  const always = hiddenUnits * classes;
  for (let c = 0; c < classes; c++) into[c] = (into[c] as number) + (outer[always + c] as number);
  for (let h = 0; h < hiddenUnits; h++) {
    const answer = units[h] as number;
    if (answer === 0) continue;
    const base = h * classes;
    for (let c = 0; c < classes; c++) into[c] = (into[c] as number) + answer * (outer[base + c] as number);
  }
}

/** Adds the net's raw scores of a text. Ids in range are the caller's promise. */
export function addNetScores(net: Net, text: Sparse, into: Float32Array): void {
  const units = new Float32Array(hiddenUnits);
  unitsInto(net.inner, text, units);
  addScores(net, units, into);
}

/**
 * What a feature of weight 1 adds to the score of a label in this text. Exact: with the silent units known, the net is a
 * sum over the features.
 */
export function netPull(net: Net, text: Sparse, label: number): (id: number) => number {
  const units = new Float32Array(hiddenUnits);
  unitsInto(net.inner, text, units);
  const toLabel = units.map((answer, h) => (answer > 0 ? (net.outer[h * net.classes + label] as number) : 0));
  return (id) => {
    let sum = 0;
    for (let h = 0; h < hiddenUnits; h++)
      sum += (net.inner[id * hiddenUnits + h] as number) * (toLabel[h] as number);
    return sum;
  };
}

/** Trains the net by AdaGrad with gaps in the texts. The same texts give the same net. */
export function trainNet(
  texts: readonly Sparse[],
  labels: readonly number[],
  classes: number,
  features: number,
): Net {
  const roll = dice(seedOfStart);
  const size = netSize(features, classes);
  const inner = new Float32Array(size.inner);
  for (let i = 0; i < inner.length; i++) inner[i] = (roll() - 0.5) * 2 * widestStart;
  const outer = new Float32Array(size.outer);
  const always = hiddenUnits * classes;
  for (let i = 0; i < always; i++) outer[i] = (roll() - 0.5) * 2 * Math.sqrt(3 / hiddenUnits);
  const net = { classes, inner, outer };
  const innerSquares = new Float32Array(features).fill(0.05);
  const outerSquares = new Float32Array(hiddenUnits).fill(1);
  const alwaysSquares = new Float32Array(classes).fill(1);
  const units = new Float32Array(hiddenUnits);
  const back = new Float32Array(hiddenUnits);
  const errors = new Float32Array(classes);
  const order = Int32Array.from(texts.keys());
  for (let epoch = 0; epoch < epochsFor(texts.length); epoch++) {
    shuffle(order, roll);
    for (const index of order) {
      const text = withGaps(texts[index] as Sparse, hidden, roll);
      unitsInto(inner, text, units);
      errors.fill(0);
      addScores(net, units, errors);
      toErrors(errors, labels[index] as number);
      let square = 0;
      for (let c = 0; c < classes; c++) {
        const error = errors[c] as number;
        square += error * error;
        const step = stepLength(alwaysSquares, c, error * error, 0.1 * rate * error);
        outer[always + c] = (outer[always + c] as number) - step;
      }
      let backSquare = 0;
      for (let h = 0; h < hiddenUnits; h++) {
        const answer = units[h] as number;
        let sum = 0;
        if (answer > 0) {
          const step = stepLength(outerSquares, h, square * answer * answer, rate * answer);
          const base = h * classes;
          for (let c = 0; c < classes; c++) {
            const weight = outer[base + c] as number;
            sum += (errors[c] as number) * weight;
            outer[base + c] = weight - step * (errors[c] as number);
          }
        }
        back[h] = sum;
        backSquare += sum * sum;
      }
      if (backSquare === 0) continue;
      const { ids, values } = text;
      for (let k = 0; k < ids.length; k++) {
        const id = ids[k] as number;
        const value = values[k] as number;
        const step = stepLength(innerSquares, id, backSquare * value * value, rate * value);
        const base = id * hiddenUnits;
        for (let h = 0; h < hiddenUnits; h++)
          inner[base + h] = (inner[base + h] as number) - step * (back[h] as number);
      }
    }
  }
  return net;
}
