import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ListRecord, readDecimal, readRecords } from '../../src/parts/index.ts';

/** Lists written by another library, cut into pieces anywhere, come back as they were; a failing run prints its seed. */
function* pieces(bytes: Uint8Array, size: number): Generator<Uint8Array> {
  for (let from = 0; from < bytes.length; from += size) yield bytes.subarray(from, from + size);
}
async function read(bytes: Uint8Array, size: number): Promise<ListRecord[]> {
  const out: ListRecord[] = [];
  for await (const some of readRecords(pieces(bytes, size), { encoding: '', delimiter: '' }))
    out.push(...some);
  return out;
}

const cell = fc
  .string({ unit: fc.constantFrom('a', 'ü', '€', '7', '"', ';', ',', ' ', '\n', 'Ł', '|'), maxLength: 8 })
  .map((text) => text.trim());
const table = fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 30 });
const headings = ['number', 'price', 'title'];

describe('lists as RFC 4180 wants them', () => {
  it.each([';', ',', '\t', '|'])('parted by %j, quoted, in UTF-8 cut anywhere', async (delimiter) => {
    await fc.assert(
      fc.asyncProperty(
        table,
        fc.integer({ min: 1, max: 40 }),
        fc.constantFrom('\n' as const, '\r\n' as const),
        fc.boolean(),
        async (rows, size, record_delimiter, bom) => {
          const text = stringify([headings, ...rows], { delimiter, record_delimiter, bom, quoted: true });
          const got = await read(new TextEncoder().encode(text), size);
          expect(got.map((record) => record.fields)).toEqual([headings, ...rows].map((row) => [...row]));
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('damaged lists', () => {
  it('lose no line: each is read or stands as unreadable, in order', async () => {
    const line = fc.string({ unit: fc.constantFrom('a', '1', '"', ';', ' '), minLength: 1, maxLength: 12 });
    await fc.assert(
      fc.asyncProperty(
        fc.array(line, { maxLength: 60 }),
        fc.integer({ min: 1, max: 30 }),
        async (lines, size) => {
          const got = await read(new TextEncoder().encode(lines.join('\n')), size);
          const shown = got.flatMap((record) => record.text.split('\n'));
          expect(shown.filter((text) => text.trim() !== '')).toEqual(
            lines.filter((text) => text.trim() !== ''),
          );
          for (const record of got) expect(lines[record.row - 1]).toBe(record.text.split('\n')[0]);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('numbers', () => {
  it('mean the same in either way of writing', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 999_999_999 }),
        fc.integer({ min: 0, max: 99 }),
        (whole, cents) => {
          const tail = String(cents).padStart(2, '0');
          const grouped = (sign: string): string => String(whole).replace(/\B(?=(\d{3})+$)/g, sign);
          const expected = `${whole}.${tail}`;
          const normal = (text: string | null): number => Number(text);
          for (const written of [`${grouped('.')},${tail}`, `${whole},${tail} €`, `${grouped(' ')},${tail}`])
            expect(normal(readDecimal(written, ',')), written).toBe(Number(expected));
          for (const written of [`${grouped(',')}.${tail}`, `$ ${whole}.${tail}`, `${grouped("'")}.${tail}`])
            expect(normal(readDecimal(written, '.')), written).toBe(Number(expected));
        },
      ),
    );
  });
  it.each([
    ['1.234', ',', '1234'],
    ['1.234', '.', '1.234'],
    ['1,234', '.', '1234'],
    ['1,234', ',', '1.234'],
    ['12,5', '.', '12.5'],
    ['1.234.567', ',', '1234567'],
    ['1,23.4', '.', null],
    ['12.34.5', '.', null],
    ['call us', '.', null],
    ['', '.', null],
  ] as const)('%s in a list with %s is %s', (text, sign, expected) => {
    expect(readDecimal(text, sign)).toBe(expected);
  });
});
