/**
 * Edit distance with swapped neighbors counted once (optimal string alignment), cut off above `limit`.
 * Source of the method: Damerau 1964, restricted form.
 */
export function editDistance(a: string, b: string, limit = Number.POSITIVE_INFINITY): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + cost);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, (before[j - 2] ?? 0) + 1);
      }
      row.push(best);
    }
    before = last;
    last = row;
  }
  return last[b.length] ?? a.length;
}

/** The known name most like `name`, if one is like enough to be what was meant: at most a third of it differs. */
export function closestName(name: string, known: Iterable<string>): string | undefined {
  const plain = fold(name);
  let found: string | undefined;
  let least = Math.max(1, Math.floor(plain.length / 3)) + 1;
  for (const candidate of known) {
    const other = fold(candidate);
    // The same words in another order, or one word more: relay-starter, starter-relay-coil.
    const distance = sameWords(plain, other) ? 0.5 : editDistance(plain, other, least);
    if (distance < least) {
      least = distance;
      found = candidate;
    }
  }
  return found;
}

/** “; did you mean X?”, or nothing. */
export function didYouMean(name: string, known: Iterable<string>): string {
  const close = closestName(name, known);
  return close === undefined ? '' : `; did you mean “${close}”?`;
}

const fold = (name: string): string => name.toLowerCase().replaceAll(/[_\s]/g, '-');

function sameWords(a: string, b: string): boolean {
  const words = (text: string): string => text.split('-').sort().join('-');
  return a !== b && words(a) === words(b);
}
