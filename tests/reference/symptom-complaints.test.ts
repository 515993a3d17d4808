import { expect, test } from 'vitest';
import { createFinder } from '../../src/symptom/index.ts';
import { complaints, score, searchWith, shippedBook } from './symptom-complaints.ts';

// The complaints were written by hand for this project, apart from the handbook's phrases. No outside collection of
// labeled scooter complaints is published, so these sets are the measure; `test` was never read by whoever tuned the search.
const book = shippedBook();
const search = searchWith(createFinder(book, []));

test('complaints of both sets name symptoms of the book', () => {
  for (const set of ['dev', 'test'] as const)
    for (const { text, symptoms } of complaints(set))
      for (const id of symptoms) expect(book.symptoms.has(id as never), `${id} of “${text}”`).toBe(true);
});

test('no complaint of the untouched set is among the phrases of the book', () => {
  const fold = (text: string): string =>
    text
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, ' ')
      .trim();
  const known = new Set(
    [...book.phrases.values(), book.outOfScope, book.electricDrive].flat().map((text) => fold(text)),
  );
  const taken = complaints('test').filter(({ text }) => text.length > 25 && known.has(fold(text)));
  expect(taken).toEqual([]);
});

test('finds the symptoms of the complaints used for developing', () => {
  const result = score(complaints('dev'), search);
  expect(result.hitsAt1).toBeGreaterThan(0.92);
  expect(result.hitsAt3).toBeGreaterThan(0.96);
  expect(result.rejectedWrongly).toBeLessThan(0.02);
  expect(result.rejected).toBeGreaterThan(0.9);
  expect(result.namedElectric).toBeGreaterThan(0.8);
});

test('finds the symptoms of complaints nobody developed against', () => {
  const result = score(complaints('test'), search);
  expect(result.hitsAt1).toBeGreaterThan(0.78);
  expect(result.hitsAt3).toBeGreaterThan(0.89);
  expect(result.rejectedWrongly).toBeLessThan(0.04);
  expect(result.rejected).toBeGreaterThan(0.72);
  expect(result.namedElectric).toBeGreaterThan(0.6);
});
