import { TextReader } from './decode-text.ts';
import { forgiveFields, splitFields } from './split-fields.ts';
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

/**
 * The sign that parts the fields: as a first line `sep=;` says (a spreadsheet writes it), else the one that occurs most
 * evenly in the first lines.
 */
export function findDelimiter(sample: string): string {
  const told = /^sep=([;\t,|])[\r\n]/i.exec(sample)?.[1];
  if (told) return told;
  const lines = sample
    .slice(0, 64 * 1024)
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

function fieldsOf(raw: RawRecord, delimiter: string): ListRecord {
  const { row, text } = raw;
  if (raw.problem) return { row, fields: [], text, problem: raw.problem };
  const { state, fields } = splitFields(text, delimiter);
  if (state === 'clean') return { row, fields, text, problem: null };
  const forgiven = forgiveFields(text, delimiter);
  return forgiven
    ? { row, fields: forgiven, text, problem: null }
    : { row, fields: [], text, problem: 'the quotes of this line do not match' };
}

export interface ListForm {
  encoding: string;
  delimiter: string;
}

const sampleSize = 64 * 1024;

/**
 * Reads a list (RFC 4180 and what is made of it: any of four delimiters, any line end, BOM, UTF-16, Windows-1252, blank
 * lines) block by block, never holding more than a piece of it.
 * @param form is filled in with what was found
 * @throws Problem bad-file where the file is of another kind
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
  const read = (raws: readonly RawRecord[]): ListRecord[] => raws.map((raw) => fieldsOf(raw, form.delimiter));
  for await (const piece of pieces) {
    const text = reader.push(piece);
    form.encoding = reader.encoding;
    if (!splitter) {
      sample += text;
      if (sample.length < sampleSize) continue;
      splitter = begin();
      yield read(splitter.push(sample));
    } else yield read(splitter.push(text));
  }
  const tail = reader.end();
  form.encoding = reader.encoding;
  if (!splitter) {
    sample += tail;
    splitter = begin();
    yield read(splitter.push(sample));
  } else yield read(splitter.push(tail));
  yield read(splitter.end());
}
