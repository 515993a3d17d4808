import { parse } from 'csv-parse/sync';
import readXlsxFile from 'read-excel-file/node';
import { describe, expect, test } from 'vitest';
import { type FileTable, tableCsv, tableXlsx } from '../../../src/paper/index.ts';

const table: FileTable = {
  title: 'Concerns: by [cause] / a very long title indeed',
  notes: ['=1+1 is only text'],
  columns: [
    { title: 'Cause', kind: 'text' },
    { title: 'Concerns', kind: 'number' },
  ],
  rows: [
    ['=HYPERLINK("http://x.invalid","click")', 3],
    ['+1', -2.5],
    ['-2', Number.NaN],
    ['@SUM(A1)', null],
    ['\tcmd', 0],
    ['Schütz, "quoted"\nsecond line', 7],
  ],
};

describe('a table as CSV', () => {
  test('is read back by a reader of its own, with a mark of UTF-8 and line ends as RFC 4180 has them', () => {
    const text = tableCsv(table);
    expect(text.charCodeAt(0)).toBe(0xfeff);
    expect(text.endsWith('\r\n')).toBe(true);
    const rows = parse(text, { bom: true }) as string[][];
    expect(rows).toHaveLength(7);
    expect(rows[6]).toEqual(['Schütz, "quoted"\nsecond line', '7']);
  });
  test('text that a spreadsheet would run is marked as text, numbers are not (OWASP, CSV Injection)', () => {
    const rows = parse(tableCsv(table), { bom: true }) as string[][];
    for (const [cell] of rows.slice(1, 6)) expect(cell).toMatch(/^'/);
    expect(rows[2]?.[1]).toBe('-2.5');
    expect(rows[3]?.[1]).toBe('');
  });
});

describe('a table as XLSX', () => {
  test('keeps numbers as numbers and every text as text', async () => {
    const bytes = await tableXlsx(table);
    const sheets = await readXlsxFile(Buffer.from(bytes));
    const [first, second] = sheets as unknown as { sheet: string; data: unknown[][] }[];
    expect(first?.sheet.length).toBeLessThanOrEqual(31);
    expect(first?.data[0]).toEqual(['Cause', 'Concerns']);
    expect(first?.data[1]).toEqual(['=HYPERLINK("http://x.invalid","click")', 3]);
    expect(first?.data[2]).toEqual(['+1', -2.5]);
    expect(first?.data[3]).toEqual(['-2', null]);
    expect(second?.data[1]).toEqual(['=1+1 is only text']);
    // A formula would stand in an element of its own (ECMA-376, part 1, 18.3.1.40 f).
    expect(Buffer.from(bytes).subarray(0, 2).toString('latin1')).toBe('PK');
  });
});
