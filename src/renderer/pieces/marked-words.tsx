import { Fragment } from 'react';

const literal = (word: string): string => word.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A text with the words that counted marked in it, as they were typed. */
export function MarkedWords({ text, words }: { text: string; words: readonly string[] }) {
  const list = words.filter((word) => word.trim() !== '');
  if (list.length === 0) return <>{text}</>;
  const pattern = new RegExp(
    `(${[...list]
      .sort((a, b) => b.length - a.length)
      .map(literal)
      .join('|')})`,
    'giu',
  );
  // With one capturing group, every second piece of the split is a match.
  const pieces = text
    .split(pattern)
    .map((piece, at) => ({ piece, key: `${at}-${piece}`, isMatch: at % 2 === 1 }));
  return (
    <>
      {pieces.map(({ piece, key, isMatch }) =>
        isMatch ? <mark key={key}>{piece}</mark> : <Fragment key={key}>{piece}</Fragment>,
      )}
    </>
  );
}
