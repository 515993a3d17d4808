import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { decodeVin, gtinCheckDigit, modelYears, readGtin, vinCheckDigit } from '../../src/parts/index.ts';

/** Published examples; each row of the data names its source. */
const rows = (name: string): Record<string, string>[] =>
  parse(readFileSync(join(import.meta.dirname, 'data', name)), { columns: true, bom: true });

describe('VIN structure and check digit (49 CFR 565.15, ISO 3779)', () => {
  const examples = rows('vin-examples.csv');

  it.each(examples.filter((row) => row.valid !== 'invalid-format'))('$vin', (row) => {
    const read = decodeVin(row.vin as string, 2027);
    expect(read.kind).toBe('vin');
    expect(vinCheckDigit(row.vin as string)).toBe(row.computed_check);
    expect(read.checkDigit === 'right').toBe(row.valid === 'true');
  });

  it.each(examples.filter((row) => row.valid === 'invalid-format'))('$vin is none', (row) => {
    expect(decodeVin(row.vin as string, 2027).kind).toBe('frame');
  });

  it('every change of one character to another value is caught (11 is prime)', () => {
    const vin = '1M8GDM9AXKP042788';
    for (let place = 0; place < 17; place += 1) {
      const sign = vin[place] as string;
      if (place === 8 || !/\d/.test(sign)) continue;
      for (const other of '0123456789'.replace(sign, '')) {
        const changed = vin.slice(0, place) + other + vin.slice(place + 1);
        expect(vinCheckDigit(changed), changed).not.toBe(vin[8]);
      }
    }
  });

  it('outside of North America a failing check digit is a note', () => {
    const read = decodeVin('JM1BN1U71H1100922', 2027);
    expect(read.checkDigit).toBe('not-used');
    expect(read.notes.join()).toContain('need none');
    expect(decodeVin('1G4AH59H45G118331', 2027).checkDigit).toBe('wrong');
  });

  it.each(rows('vin-model-year.csv'))('year code $code', (row) => {
    expect(modelYears(row.code as string)).toEqual([Number(row.year_1), Number(row.year_2)]);
  });

  it('leaves two years for a motorcycle, and none that lie ahead', () => {
    expect(decodeVin('1M8GDM9AXKP042788', 2027).years).toEqual([1989, 2019]);
    expect(decodeVin('1M8GDM9AXKP042788', 2010).years).toEqual([1989]);
  });
});

describe('GTIN check digits (GS1 General Specifications 7.9)', () => {
  const examples = rows('gtin-examples.csv');

  it.each(examples)('$gtin', (row) => {
    const gtin = row.gtin as string;
    expect(gtinCheckDigit(gtin.slice(0, -1))).toBe(Number(row.computed_check));
    const read = readGtin(gtin);
    expect(read.ok).toBe(row.valid === 'true');
    if (read.ok) {
      expect(read.kind).toBe(row.kind);
      expect(readGtin(read.gtin14).ok).toBe(true);
    }
  });
});
