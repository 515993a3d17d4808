/** A character no text of the book may hold: controls other than tab and line ends, halves of a pair, and the mark that a byte was no UTF-8. */
const unreadable = /(?![\t\n\r])[\p{Cc}\p{Cs}\ufffd]/u;

/** Where the first such character stands, and which it is; undefined in readable text. */
export function firstUnreadable(
  text: string,
): { readonly index: number; readonly character: string } | undefined {
  const match = unreadable.exec(text);
  return match ? { index: match.index, character: match[0] } : undefined;
}
