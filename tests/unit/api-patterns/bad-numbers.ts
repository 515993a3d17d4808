/**
 * Places in an answer where a number is none, or where words say so: JSON turns NaN and infinity into null, so the object
 * itself is walked. Instants must be real ones.
 */
export function badNumbers(value: unknown, at = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [at];
  if (typeof value === 'string')
    return /NaN|Infinity|undefined|null|Invalid|-\d+ (of|visits|days|times)/.test(value)
      ? [`${at}: ${value}`]
      : [];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => badNumbers(inner, `${at}.${key}`));
}
