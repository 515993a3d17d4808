import { describe, expect, it } from 'vitest';
import { attributesOf } from '../../../src/renderer/part-upkeep/attribute-fields.tsx';
import { readWhole } from '../../../src/renderer/part-upkeep/read-whole.ts';
import { fitmentWords, printedGtin } from '../../../src/renderer/parts/part-words.ts';
import { lacking, mappingOf, placed } from '../../../src/renderer/price-lists/list-columns.ts';

describe('the columns of a price list', () => {
  it('each stand for one thing, and one thing stands in one column', () => {
    const start = placed(placed({}, 0, 'number'), 1, 'price');
    expect(placed(start, 2, 'price')).toEqual({ number: 0, price: 2 });
    expect(placed(start, 1, 'title')).toEqual({ number: 0, title: 1 });
    expect(placed(start, 0, null)).toEqual({ price: 1 });
    expect(lacking(start)).toBeNull();
    expect(lacking(placed(start, 1, null))).toMatch(/the price/);
    expect(mappingOf(start, ['Art', 'Preis'])).toEqual({ number: 'Art', price: 'Preis' });
  });
});

describe('what is typed about a part', () => {
  it('is a number where the name has a unit, and words elsewhere; what is no number goes on as it stands', () => {
    expect(attributesOf({ rating_a: ' 7,5 ', form: '10', phases: '3', length_mm: 'long', cap: ' ' })).toEqual(
      {
        rating_a: 7.5,
        form: '10',
        phases: 3,
        length_mm: 'long',
      },
    );
  });

  it('a whole number that is none names its field', () => {
    expect(readWhole(' 12 ', 'Pieces', 'a number')).toBe(12);
    expect(readWhole('', 'Pieces', 'a number')).toBeNull();
    for (const text of ['1.5', '-1', 'two', '1e3'])
      expect(() => readWhole(text, 'Pieces', 'a number of pieces')).toThrow(`Pieces: a number of pieces was`);
  });
});

it('a barcode is shown as printed (lengths of GS1 General Specifications: 8, 12, 13, 14 digits)', () => {
  expect(printedGtin('06291041500213')).toBe('6291041500213');
  expect(printedGtin('00000096385074')).toBe('96385074');
  expect(printedGtin('00614141999996')).toBe('614141999996');
  expect(printedGtin('16291041500210')).toBe('16291041500210');
});

it('a fitment reads as a person says it', () => {
  const one = {
    modelId: 'a',
    familyId: null,
    machine: 'Pellan Vico',
    years: { from: 2014, to: null },
    frames: { from: 'AB1', to: 'AB9' },
    position: 'front',
    note: 'with disc',
  };
  expect(fitmentWords(one)).toBe('Pellan Vico, 2014 to now, frames AB1 to AB9, front. with disc');
});
