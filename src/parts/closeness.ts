const fold = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/**
 * How close what was typed is to what a part is called: 0 it is the very thing ("spark plug"), 1 its name begins so
 * ("spark plug cap"), 2 the words only occur in it.
 */
export function closeness(text: string, part: { readonly title: string; readonly kind: string }): 0 | 1 | 2 {
  const typed = fold(text);
  if (typed === '') return 2;
  const head = fold(part.title.split(',')[0] ?? '');
  if (fold(part.kind) === typed || head === typed) return 0;
  return `${fold(part.title)} `.startsWith(`${typed} `) ? 1 : 2;
}
