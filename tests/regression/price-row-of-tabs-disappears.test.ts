import { expect, it } from 'vitest';
import { type ListRecord, readRecords } from '../../src/parts/index.ts';

// A row of empty fields was taken for a blank line where tabs part the fields, and vanished without a word.
it.each([';', ',', '\t', '|'])('a row of empty fields parted by %j is a row', async (delimiter) => {
  const text = `number${delimiter}price${delimiter}title\n${delimiter}${delimiter}\n\n`;
  const records: ListRecord[] = [];
  for await (const some of readRecords([new TextEncoder().encode(text)], { encoding: '', delimiter: '' }))
    records.push(...some);
  expect(records.map((record) => [record.row, record.fields])).toEqual([
    [1, ['number', 'price', 'title']],
    [2, ['', '', '']],
  ]);
});
