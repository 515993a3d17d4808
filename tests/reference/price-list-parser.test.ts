import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ListRecord, readRecords, splitFields } from '../../src/parts/index.ts';

/**
 * The reader of price lists beside an independent parser (csv-parse, which the reader asks only about quotes that it cannot make
 * out itself) on lists as they should be (RFC 4180) and as they come. A failing run prints its seed.
 */
function* pieces(bytes: Uint8Array, size: number): Generator<Uint8Array> {
  for (let from = 0; from < bytes.length; from += size) yield bytes.subarray(from, from + size);
}
async function read(text: string, size: number): Promise<ListRecord[]> {
  const out: ListRecord[] = [];
  for await (const some of readRecords(pieces(new TextEncoder().encode(text), size), {
    encoding: '',
    delimiter: '',
  }))
    out.push(...some);
  return out;
}
const options = (delimiter: string) => ({
  delimiter,
  relax_quotes: true,
  relax_column_count: true,
  skip_empty_lines: true,
  trim: delimiter !== '\t',
});
const independent = (text: string, delimiter: string): string[][] =>
  parse(text, options(delimiter)) as string[][];

// Which sign parts the fields is guessed from the lines themselves, so that no cell of these short lists has another one.
const tableOf = (delimiter: string) => {
  const units = ['a', 'B', '7', 'ü', '€', '漢', '🛵', '"', '""', delimiter, ' ', "'", '=', '\n', '-'];
  const cell = fc.string({ unit: fc.constantFrom(...units), maxLength: 9 });
  return fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { minLength: 1, maxLength: 25 });
};
const headings = ['number', 'price', 'title'];

describe('lists as they should be', () => {
  it.each([';', ',', '\t', '|'])('parted by %j are read alike', async (delimiter) => {
    await fc.assert(
      fc.asyncProperty(
        tableOf(delimiter),
        fc.integer({ min: 1, max: 60 }),
        fc.constantFrom('\n', '\r\n', '\r'),
        fc.boolean(),
        async (rows, size, record_delimiter, quoted) => {
          const text = stringify([headings, ...rows], {
            delimiter,
            record_delimiter,
            quoted,
            // RFC 4180, section 2.6: a field with a line break is quoted, whatever ends the lines of the file.
            quoted_match: /[\r\n]/,
          });
          const own = (await read(text, size)).map((record) => record.fields);
          // A field of blanks alone in a line of its own is a blank line to one and a row to the other.
          const filled = (fields: readonly string[]): boolean => fields.some((field) => field.trim() !== '');
          // The reader joins the lines of a quoted field by a line feed, whatever ended them.
          const other = independent(text, delimiter).map((fields) =>
            fields.map((field) => field.replaceAll('\r\n', '\n')),
          );
          expect(own.filter(filled)).toEqual(other.filter(filled));
        },
      ),
      { numRuns: 150 },
    );
  });
});

describe('records as they come', () => {
  it.each([';', ',', '\t', '|'])('parted by %j: what is told to be clean is read alike', (delimiter) => {
    let clean = 0;
    let other = 0;
    fc.assert(
      fc.property(
        fc.string({
          unit: fc.constantFrom('a', '1', '"', '"', delimiter, delimiter, ' ', 'é'),
          maxLength: 16,
        }),
        (text) => {
          fc.pre(text.trim() !== '');
          const { state, fields } = splitFields(text, delimiter);
          if (state !== 'clean') {
            other += 1;
            return;
          }
          clean += 1;
          expect(fields).toEqual(independent(text, delimiter)[0]);
        },
      ),
      { numRuns: 3000 },
    );
    // Both ways were gone.
    expect(Math.min(clean, other)).toBeGreaterThan(100);
  });

  it('damaged lists lose no line, and their sound lines are read alike', async () => {
    const damage = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      sign: fc.constantFrom('"', ';', '\n', '\r', '', 'x'),
    });
    await fc.assert(
      fc.asyncProperty(
        tableOf(';'),
        fc.array(damage, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 1, max: 50 }),
        async (rows, hits, size) => {
          let text = stringify(
            [headings, ...rows.map((row) => row.map((one) => one.replaceAll('\n', ' ')))],
            {
              delimiter: ';',
            },
          );
          const start = text.indexOf('\n') + 1;
          for (const { at, sign } of hits) {
            const place = start + Math.floor(at * (text.length - start));
            text = text.slice(0, place) + sign + text.slice(place + 1);
          }
          // A sign of two units may have been cut in half.
          text = text.toWellFormed();
          const lines = text.split(/\r\n|\n|\r/);
          const got = await read(text, size);
          const isBlank = (line: string): boolean => line.trim() === '' && !line.includes(';');
          expect(got.flatMap((record) => record.text.split('\n')).filter((line) => !isBlank(line))).toEqual(
            lines.filter((line) => !isBlank(line)),
          );
          for (const record of got) {
            expect(lines[record.row - 1]).toBe(record.text.split('\n')[0]);
            if (record.problem === null && splitFields(record.text, ';').state === 'clean')
              expect(record.fields).toEqual(independent(record.text, ';')[0]);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});
