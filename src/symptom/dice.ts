/**
 * Numbers from 0 to below 1 that are the same in every run: a linear congruence (multiplier and increment of Numerical
 * Recipes), its upper 24 bits.
 */
export function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state >>> 8) / 2 ** 24;
  };
}

/** Brings a list of places into another order, in place (Fisher and Yates). */
export function shuffle(places: Int32Array, roll: () => number): void {
  for (let i = places.length - 1; i > 0; i--) {
    const j = Math.floor(roll() * (i + 1));
    const held = places[i] as number;
    places[i] = places[j] as number;
    places[j] = held;
  }
}
