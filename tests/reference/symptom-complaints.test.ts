import { expect, test } from 'vitest';
import { createFinder } from '../../src/symptom/index.ts';
import { complaintSets, complaints, score, searchWith, shippedBook } from './symptom-complaints.ts';

// The complaints were written by hand for this project, apart from the handbook's phrases. No outside collection of
// labeled scooter complaints is published, so these sets are the measure; `test` and `test-2` were never read by whoever
// tuned the search. `test-2` shares more turns of phrase with the handbook than `test` (12 % of its runs of four words
// against 6 %), though written without sight of it, so the lower figure of the two is the one to trust.
const book = shippedBook();
const search = searchWith(createFinder(book, []));

test('complaints of every set name symptoms of the book', () => {
  for (const set of complaintSets)
    for (const { text, symptoms } of complaints(set))
      for (const id of symptoms) expect(book.symptoms.has(id as never), `${id} of “${text}”`).toBe(true);
});

test('no complaint of the untouched sets is among the phrases of the book', () => {
  const fold = (text: string): string =>
    text
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, ' ')
      .trim();
  const known = new Set(
    [...book.phrases.values(), book.outOfScope, book.electricDrive].flat().map((text) => fold(text)),
  );
  const untouched = [...complaints('test'), ...complaints('test-2')];
  const taken = untouched.filter(({ text }) => text.length > 25 && known.has(fold(text)));
  expect(taken).toEqual([]);
});

test('finds the symptoms of the complaints used for developing', () => {
  const result = score(complaints('dev'), search);
  expect(result.hitsAt1).toBeGreaterThan(0.94);
  expect(result.hitsAt3).toBeGreaterThan(0.97);
  expect(result.rejectedWrongly).toBeLessThan(0.02);
  expect(result.rejected).toBeGreaterThan(0.94);
  expect(result.namedElectric).toBeGreaterThan(0.9);
});

// Written by us, no other source. Floors a few points below what was first measured on these 40 complaints and 28 texts out of scope, with
// nothing changed for them: 92.5 % first, 97.5 % in three, one turned away; 27 of the 28 turned away.
test('finds the symptoms of complaints in everyday speech', () => {
  const result = score(complaints('fresh'), search);
  expect(result.hitsAt1).toBeGreaterThan(0.87);
  expect(result.hitsAt3).toBeGreaterThan(0.94);
  expect(result.rejectedWrongly).toBeLessThan(0.06);
  expect(result.rejected).toBeGreaterThan(0.9);
  expect(result.namedElectric).toBeGreaterThan(0.8);
});

test('finds the symptoms of complaints nobody developed against', () => {
  const result = score(complaints('test'), search);
  expect(result.hitsAt1).toBeGreaterThan(0.88);
  expect(result.hitsAt3).toBeGreaterThan(0.95);
  expect(result.rejectedWrongly).toBeLessThan(0.02);
  expect(result.rejected).toBeGreaterThan(0.86);
  expect(result.namedElectric).toBeGreaterThan(0.85);
});

test('the second untouched set has its own texts, four or more for each symptom', () => {
  const others = new Set([...complaints('dev'), ...complaints('test')].map(({ text }) => text));
  const second = complaints('test-2');
  expect(second.filter(({ text }) => text.length > 25 && others.has(text))).toEqual([]);
  for (const id of book.symptoms.keys())
    expect(second.filter(({ symptoms }) => symptoms.includes(id)).length, id).toBeGreaterThanOrEqual(4);
});

// Floors three points below what was first measured: 96.3 % first, 98.9 % in three, MRR 0.976, 0.9 % turned away;
// 94.1 % of the texts out of scope turned away, 96 % of those about electric drive named.
test('finds the symptoms of a second set of complaints nobody developed against', () => {
  const result = score(complaints('test-2'), search);
  expect(result.hitsAt1).toBeGreaterThan(0.93);
  expect(result.hitsAt3).toBeGreaterThan(0.958);
  expect(result.reciprocalRank).toBeGreaterThan(0.945);
  expect(result.rejectedWrongly).toBeLessThan(0.039);
  expect(result.rejected).toBeGreaterThan(0.91);
  expect(result.namedElectric).toBeGreaterThan(0.93);
});
