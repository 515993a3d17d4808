import type { ListRecord } from './read-records.ts';
import type { ListRow } from './read-row.ts';
import { forgiveFields, splitFields } from './split-fields.ts';

/**
 * A row as one line of text, which sorts by part and then by row of the list, with its record as it stood in the file, so that a
 * duplicate found later can be handed back as it came. Neither sign below can stand in a row that was read (see `readRow`: such
 * signs are damage).
 */
const unit = '\u001f';
/** Stands for a line end in a quoted field. */
const feed = '\u001e';
const rowDigits = 10;

export function toLine(row: ListRow, record: ListRecord): string {
  const { text } = record;
  // Joined, not added up: the text is made in one piece.
  return [
    row.partId,
    String(record.row).padStart(rowDigits, '0'),
    row.number,
    row.title,
    row.price,
    row.currency,
    row.cost,
    row.core,
    row.gtin,
    text.includes('\n') ? text.replaceAll('\n', feed) : text,
  ].join(unit);
}

/**
 * Stands for a row that was taken already, since its part comes behind all before it: only later rows of the same part need
 * to know of it.
 */
export const toMark = (row: ListRow, record: ListRecord): string =>
  row.partId + unit + String(record.row).padStart(rowDigits, '0');

/** A row as it comes back in order. */
export class SortedRow implements ListRow {
  readonly partId: string;
  /** Row of the list. */
  readonly at: number;
  readonly number: string;
  readonly title: string;
  readonly price: string;
  readonly currency: string;
  readonly cost: string | null;
  readonly core: string | null;
  readonly gtin: string | null;
  /** Whether only its mark was left. */
  readonly isMark: boolean;
  readonly #text: string;

  constructor(line: string) {
    const parts = line.split(unit);
    this.isMark = parts.length === 2;
    this.partId = parts[0] as string;
    this.at = Number(parts[1]);
    this.number = parts[2] ?? '';
    this.title = parts[3] ?? '';
    this.price = parts[4] ?? '';
    this.currency = parts[5] ?? '';
    this.cost = parts[6] || null;
    this.core = parts[7] || null;
    this.gtin = parts[8] || null;
    this.#text = parts[9] ?? '';
  }

  /** The record as it came, for the rejects. @param delimiter of the list */
  record(delimiter: string): ListRecord {
    const text = this.#text.replaceAll(feed, '\n');
    const { state, fields } = splitFields(text, delimiter);
    const read = state === 'clean' ? fields : forgiveFields(text, delimiter);
    return { row: this.at, fields: read ?? [], text, problem: null };
  }
}
