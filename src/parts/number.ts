/**
 * A part number as letters and digits only, in capitals: spaces, dashes, dots, slashes, case and accents do not matter.
 * Two numbers with the same key are the same number. Leading zeros are kept, since they tell numbers apart.
 */
export function partKey(text: string): string {
  // Nearly every number is plain letters and digits with dashes: a list of a million is not folded sign by sign.
  if (/^[\x20-\x7e]*$/.test(text)) return text.replace(/[^A-Za-z0-9]+/g, '').toUpperCase();
  return text
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]/gu, '')
    .toUpperCase();
}

const mostZeros = 4;

/** Keys under which a typed number may stand: as typed, without its leading zeros, and with up to four before it. */
export function keysFor(text: string): string[] {
  const key = partKey(text);
  if (key === '') return [];
  const bare = key.replace(/^0+(?=.)/, '');
  const padded = Array.from({ length: mostZeros }, (_, k) => '0'.repeat(k + 1) + bare);
  return [...new Set([key, bare, ...padded])];
}
