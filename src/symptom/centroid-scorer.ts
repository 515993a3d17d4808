import type { Sparse } from './encoder.ts';

/** Brings cosines, which lie between 0 and 1, to the range of trained scores. */
const sharpness = 20;

/**
 * Scores a text by its cosine to the middle of each label's texts (Rocchio 1971). Keeps only the features that a label
 * has, so thousands of labels fit and a query touches only the lists of its own features.
 */
export function centroidScorer(
  rows: readonly Sparse[],
  labels: readonly number[],
  classes: number,
): {
  scoreInto(text: Sparse, into: Float32Array): void;
  pull(text: Sparse, label: number): (id: number) => number;
} {
  const sums: Map<number, number>[] = Array.from({ length: classes }, () => new Map());
  for (const [index, { ids, values }] of rows.entries()) {
    const sum = sums[labels[index] as number] as Map<number, number>;
    for (let k = 0; k < ids.length; k++) {
      const id = ids[k] as number;
      sum.set(id, (sum.get(id) ?? 0) + (values[k] as number));
    }
  }
  const lists = new Map<number, { labels: number[]; weights: number[] }>();
  for (const [label, sum] of sums.entries()) {
    const length = Math.sqrt([...sum.values()].reduce((total, value) => total + value * value, 0));
    for (const [id, value] of sum) {
      const weight = (value / length) * sharpness;
      sum.set(id, weight);
      let list = lists.get(id);
      if (!list) {
        list = { labels: [], weights: [] };
        lists.set(id, list);
      }
      list.labels.push(label);
      list.weights.push(weight);
    }
  }
  return {
    scoreInto({ ids, values }, into) {
      into.fill(0);
      for (let k = 0; k < ids.length; k++) {
        const list = lists.get(ids[k] as number);
        if (!list) continue;
        const value = values[k] as number;
        for (let i = 0; i < list.labels.length; i++) {
          const label = list.labels[i] as number;
          into[label] = (into[label] as number) + value * (list.weights[i] as number);
        }
      }
    },
    pull: (_, label) => (id) => sums[label]?.get(id) ?? 0,
  };
}
