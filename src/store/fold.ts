/**
 * Folds text for search: no accents, no case, so that "Müller" is found by "muller". Kept in columns of their own,
 * because engines disagree about collation.
 */
export function fold(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/ß/g, 'ss').trim();
}

/** Folds a plate, phone or frame number: letters and digits only. */
export function foldCode(text: string): string {
  return fold(text).replace(/[^\p{L}\p{N}]/gu, '');
}

/** One search column out of several texts: words for people, bare codes for machines. */
export function foldAll(
  texts: readonly (string | null | undefined)[],
  codes: readonly (string | null | undefined)[],
): string {
  const words = texts
    .filter((text) => text !== null && text !== undefined && text !== '')
    .map((text) => fold(text as string));
  const bare = codes.filter((code) => code).map((code) => `#${foldCode(code as string)}`);
  return [...words, ...bare].join(' ');
}

/** Escapes what LIKE would read as a wildcard. */
export function likePattern(text: string): string {
  return `%${text.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`;
}
