/**
 * Corrects for looking at many things at once: for each chance value the smallest share of false finds among all that are
 * at least as striking (Benjamini & Hochberg, Journal of the Royal Statistical Society B 57, 1995).
 * @param chances each 0 to 1
 * @returns in the same order, each 0 to 1
 */
export function falseDiscovery(chances: readonly number[]): number[] {
  const order = chances.map((_, place) => place).sort((a, b) => (chances[b] ?? 1) - (chances[a] ?? 1));
  const result = chances.map(() => 1);
  let least = 1;
  for (const [step, place] of order.entries()) {
    const rank = chances.length - step;
    least = Math.min(least, ((chances[place] ?? 1) * chances.length) / rank);
    result[place] = least;
  }
  return result;
}
