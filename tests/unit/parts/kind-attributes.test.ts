import { expect, it } from 'vitest';
import { makeCatalog } from '../../../src/demo/index.ts';
import { attributeFault, attributesOfKind, frameRangeFault } from '../../../src/parts/index.ts';
import { shippedBook } from './shipped-book.ts';

// Bounds are common practice of the trade, no source.

it('every part of the invented catalog states only what its kind states, within bounds', () => {
  const book = shippedBook();
  for (const part of makeCatalog(book, 7).parts)
    expect(attributeFault(part.kind, part.attributes), part.title).toBeNull();
  // A kind that is listed but not in the book would never be asked for.
  for (const kind of new Set(makeCatalog(book, 7).parts.map((part) => part.kind)))
    for (const one of attributesOfKind(kind)) expect(one.isNumber ? one.low !== null : one.unit).toBeTruthy;
});

it('a kind that is not listed may state anything, in the unit of the name', () => {
  expect(attributesOfKind('key-blank')).toEqual([]);
  expect(attributeFault('key-blank', { length_mm: 40, profile: 'left' })).toBeNull();
  expect(attributeFault('key-blank', { length_mm: 'long' })?.why).toMatch(/a number of mm/);
  expect(attributeFault('key-blank', { 'Length mm': 4 })?.name).toBe('Length mm');
  expect(attributeFault('stator', { phases: 2.5 })?.why).toMatch(/whole number/);
});

it('two frame numbers make a range when they begin alike and count up', () => {
  expect(frameRangeFault('AB-0100', 'ab 200')).toBeNull();
  expect(frameRangeFault('AB100', null)).toBeNull();
  expect(frameRangeFault('AB200', 'AB100')).toMatch(/comes after/);
  expect(frameRangeFault('AB100', 'AC200')).toMatch(/begin alike/);
  expect(frameRangeFault('AB', null)).toMatch(/ends with digits/);
});
