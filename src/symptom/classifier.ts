import type { Feature } from './features.ts';

/** A text as sparse numbers: features the training knows, weighted and brought to length 1. */
export interface Sparse {
  readonly ids: Int32Array;
  readonly values: Float32Array;
}

export interface Example {
  readonly features: readonly Feature[];
  readonly label: number;
}

export interface Classifier {
  readonly classes: number;
  readonly ids: ReadonlyMap<string, number>;
  sparse(features: readonly Feature[]): Sparse;
  /** Raw scores, one a class. */
  scores(text: Sparse): Float32Array;
  /** What one feature of unit weight adds to a class, with its rarity. */
  pull(name: string, label: number): number;
}

/**
 * Multinomial logistic regression by AdaGrad over words weighted by rarity. The order of examples comes from a fixed
 * linear congruence, so the same book gives the same weights.
 */
export function trainClassifier(
  examples: readonly Example[],
  classes: number,
  options: { readonly epochs: number; readonly rate: number; readonly minCount: number },
): Classifier {
  const counts = new Map<string, number>();
  for (const example of examples) {
    for (const name of new Set(example.features.map((feature) => feature.name)))
      counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  const ids = new Map<string, number>();
  const rarity: number[] = [];
  for (const [name, count] of counts) {
    if (count < options.minCount) continue;
    ids.set(name, ids.size);
    rarity.push(Math.log(1 + examples.length / count));
  }

  const sparse = (features: readonly Feature[]): Sparse => {
    const sums = new Map<number, number>();
    for (const { name, weight } of features) {
      const id = ids.get(name);
      if (id === undefined) continue;
      sums.set(id, (sums.get(id) ?? 0) + weight);
    }
    const out = { ids: new Int32Array(sums.size), values: new Float32Array(sums.size) };
    let norm = 0;
    let k = 0;
    for (const [id, sum] of sums) {
      const value = (sum > 1 ? 1 + Math.log(sum) : sum) * (rarity[id] as number);
      out.ids[k] = id;
      out.values[k] = value;
      norm += value * value;
      k += 1;
    }
    const scale = norm > 0 ? 1 / Math.sqrt(norm) : 0;
    for (let i = 0; i < k; i++) out.values[i] = (out.values[i] as number) * scale;
    return out;
  };

  const weights = new Float32Array(ids.size * classes);
  const squares = new Float32Array(ids.size).fill(0.1);
  const bias = new Float32Array(classes);
  const scores = new Float32Array(classes);

  const scoreInto = (text: Sparse, into: Float32Array): void => {
    into.set(bias);
    for (let k = 0; k < text.ids.length; k++) {
      const base = (text.ids[k] as number) * classes;
      const value = text.values[k] as number;
      for (let c = 0; c < classes; c++) into[c] = (into[c] as number) + value * (weights[base + c] as number);
    }
  };

  const texts = examples.map((example) => sparse(example.features));
  const order = Int32Array.from(texts.keys());
  let state = 12345;
  for (let epoch = 0; epoch < options.epochs; epoch++) {
    for (let i = order.length - 1; i > 0; i--) {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const j = state % (i + 1);
      const held = order[i] as number;
      order[i] = order[j] as number;
      order[j] = held;
    }
    for (const index of order) {
      const text = texts[index] as Sparse;
      const label = (examples[index] as Example).label;
      scoreInto(text, scores);
      let top = Number.NEGATIVE_INFINITY;
      for (let c = 0; c < classes; c++) top = Math.max(top, scores[c] as number);
      let sum = 0;
      for (let c = 0; c < classes; c++) {
        const e = Math.exp((scores[c] as number) - top);
        scores[c] = e;
        sum += e;
      }
      let norm = 0;
      const active: number[] = [];
      for (let c = 0; c < classes; c++) {
        const gradient = (scores[c] as number) / sum - (c === label ? 1 : 0);
        scores[c] = gradient;
        if (Math.abs(gradient) > 0.002) {
          active.push(c);
          norm += gradient * gradient;
        }
      }
      if (active.length === 0) continue;
      for (let k = 0; k < text.ids.length; k++) {
        const id = text.ids[k] as number;
        const value = text.values[k] as number;
        const square = (squares[id] as number) + norm * value * value;
        squares[id] = square;
        const step = (options.rate * value) / Math.sqrt(square);
        const base = id * classes;
        for (const c of active)
          weights[base + c] = (weights[base + c] as number) - step * (scores[c] as number);
      }
      for (const c of active) bias[c] = (bias[c] as number) - 0.01 * (scores[c] as number);
    }
  }

  return {
    classes,
    ids,
    sparse,
    scores: (text) => {
      const out = new Float32Array(classes);
      scoreInto(text, out);
      return out;
    },
    pull: (name, label) => {
      const id = ids.get(name);
      return id === undefined ? 0 : (weights[id * classes + label] as number) * (rarity[id] as number);
    },
  };
}
