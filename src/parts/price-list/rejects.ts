import { stringify } from 'csv-stringify/sync';
import type { ListRecord } from './read-records.ts';

/**
 * Lines of the rejects file: the record as it was with its row and the reason behind it. Mended, the file can be fed
 * again: the two columns more do not matter.
 * @param width how many columns the list has
 */
export function rejectsText(
  rejects: readonly { readonly record: ListRecord; readonly why: string }[],
  width: number,
): string {
  // A spreadsheet would calculate what begins like a formula; the apostrophe that prevents it is taken away on reading.
  return stringify(
    rejects.map(({ record, why }) => {
      const fields = record.fields.length > 0 ? record.fields : [record.text];
      return [...fields, ...Array(Math.max(0, width - fields.length)).fill(''), String(record.row), why];
    }),
    { escape_formulas: true },
  );
}
