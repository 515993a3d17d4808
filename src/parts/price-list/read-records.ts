import { parse } from 'csv-parse/sync';
import { TextReader } from './decode-text.ts';
import { type RawRecord, RecordSplitter } from './split-records.ts';

/** One record with its fields, or the reason why it has none. */
export interface ListRecord {
  readonly row: number;
  readonly fields: readonly string[];
  /** As it stands in the file, for the rejects. */
  readonly text: string;
  readonly problem: string | null;
}

const delimiters = [';', '\t', ',', '|'] as const;

/** The sign that parts the fields: the one that occurs most evenly in the first lines. */
export function findDelimiter(sample: string): string {
  const lines = sample
    .replace(/"[^"]*"/g, '')
    .split(/\r\n|\n|\r/)
    .filter((line) => line !== '')
    .slice(0, 30);
  let best: { sign: string; score: number } = { sign: ',', score: 0 };
  for (const sign of delimiters) {
    const counts = lines.map((line) => line.split(sign).length - 1).filter((count) => count > 0);
    const usual = [...counts].sort((a, b) => a - b)[Math.floor(counts.length / 2)] ?? 0;
    const even = counts.filter((count) => count === usual).length;
    // A decimal comma occurs evenly too, but no more often than the sign that parts the fields.
    const score = even * 10 + usual + (sign === ';' || sign === '\t' ? 5 : 0);
    if (usual > 0 && score > best.score) best = { sign, score };
  }
  return best.sign;
}

/** Blanks around a field do not count; in a list parted by tabs a tab is no blank. */
const options = (delimiter: string) => ({
  delimiter,
  relax_quotes: true,
  relax_column_count: true,
  skip_empty_lines: false,
  trim: delimiter !== '\t',
});

function parseOne(raw: RawRecord, delimiter: string): ListRecord {
  if (raw.problem) return { row: raw.row, fields: [], text: raw.text, problem: raw.problem };
  try {
    const [fields, second] = parse(raw.text, options(delimiter)) as string[][];
    if (fields && !second) return { row: raw.row, fields, text: raw.text, problem: null };
  } catch {
    // Told below.
  }
  return { row: raw.row, fields: [], text: raw.text, problem: 'the quotes of this line do not match' };
}

/** Parses a block of records together, which is faster, and one by one where that does not come out even. */
function parseBlock(block: readonly RawRecord[], delimiter: string): ListRecord[] {
  if (block.every((raw) => raw.problem === null)) {
    try {
      const rows = parse(block.map((raw) => raw.text).join('\n'), options(delimiter)) as string[][];
      if (rows.length === block.length)
        return block.map((raw, place) => ({
          row: raw.row,
          fields: rows[place] as string[],
          text: raw.text,
          problem: null,
        }));
    } catch {
      // One of them is bad; each is asked by itself.
    }
  }
  return block.map((raw) => parseOne(raw, delimiter));
}

export interface ListForm {
  encoding: string;
  delimiter: string;
}

const sampleSize = 64 * 1024;

/**
 * Reads a list (RFC 4180 and what is made of it: any of four delimiters, any line end, BOM, Windows-1252, blank lines)
 * block by block, never holding more than a piece of it.
 * @param form is filled in with what was found
 */
export async function* readRecords(
  pieces: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  form: ListForm,
): AsyncGenerator<ListRecord[]> {
  const reader = new TextReader();
  let splitter: RecordSplitter | null = null;
  let sample = '';
  const begin = (): RecordSplitter => {
    form.delimiter = findDelimiter(sample);
    return new RecordSplitter(form.delimiter);
  };
  for await (const piece of pieces) {
    const text = reader.push(piece);
    form.encoding = reader.encoding;
    if (!splitter) {
      sample += text;
      if (sample.length < sampleSize) continue;
      splitter = begin();
      yield parseBlock(splitter.push(sample), form.delimiter);
    } else yield parseBlock(splitter.push(text), form.delimiter);
  }
  const tail = reader.end();
  form.encoding = reader.encoding;
  if (!splitter) {
    sample += tail;
    splitter = begin();
    yield parseBlock(splitter.push(sample), form.delimiter);
  } else yield parseBlock(splitter.push(tail), form.delimiter);
  yield parseBlock(splitter.end(), form.delimiter);
}
