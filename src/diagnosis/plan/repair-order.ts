/**
 * Expected cost of repairing one cause after the other until it works, best order first: probability over cost.
 * `belief` need not be normalized; the answer scales with it. `order` is scratch space holding a permutation of the
 * places, left sorted. Returns the cost; adds the matching sum of `minutes` to `sums.minutes` when given.
 * Sources: Breese and Heckerman 1996; Kalagnanam and Henrion 1988 (smallest C/p first).
 */
export function repairCostOf(
  belief: ArrayLike<number>,
  cost: ArrayLike<number>,
  order: Int32Array,
  keys: Float64Array,
  minutes?: ArrayLike<number>,
  sums?: { minutes: number },
): number {
  const width = order.length;
  let mass = 0;
  for (let k = 0; k < width; k++) {
    const weight = belief[k] as number;
    mass += weight;
    keys[k] = weight / (cost[k] as number);
  }
  // Insertion sort: the order changes little from one belief to the next.
  for (let i = 1; i < width; i++) {
    const place = order[i] as number;
    const key = keys[place] as number;
    let j = i - 1;
    while (j >= 0 && (keys[order[j] as number] as number) < key) {
      order[j + 1] = order[j] as number;
      j--;
    }
    order[j + 1] = place;
  }
  let total = 0;
  let spent = 0;
  for (let i = 0; i < width; i++) {
    const place = order[i] as number;
    total += mass * (cost[place] as number);
    if (minutes) spent += mass * (minutes[place] as number);
    mass -= belief[place] as number;
  }
  if (sums) sums.minutes += spent;
  return total;
}

/** The order itself: places by probability over cost, highest first; ties by place. */
export function repairOrder(belief: ArrayLike<number>, cost: ArrayLike<number>): number[] {
  return Array.from({ length: cost.length }, (_, k) => k).sort(
    (a, b) =>
      (belief[b] as number) / (cost[b] as number) - (belief[a] as number) / (cost[a] as number) || a - b,
  );
}
