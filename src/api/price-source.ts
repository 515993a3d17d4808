import { type ListForm, type ListRecord, looksPacked, readRecords } from '../parts/index.ts';
import { filePieces, fileSize, firstBytes, readSpreadsheet, uploadedFile } from '../store/index.ts';

/** Where the records of a list come from: a file, an uploaded file, or text. */
export interface PriceSource {
  /** What the list is called where it came from. */
  readonly name: string;
  readonly form: ListForm;
  /** How much of it has been read, 0 to 1. */
  readonly share: () => number;
  readonly records: () => AsyncIterable<ListRecord[]>;
}

const block = 1000;

async function* textPieces(text: string): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder();
  const size = 64 * 1024;
  // Cut without regard to signs of two units: the half of one would be lost.
  for (let from = 0, to = 0; from < text.length; from = to) {
    to = Math.min(text.length, from + size);
    const code = text.charCodeAt(to - 1);
    if (code >= 0xd800 && code < 0xdc00 && to < text.length) to += 1;
    yield encoder.encode(text.slice(from, to));
  }
}

/** A sheet has no delimiter; its rows are shown and handed back with the default one. */
const sheetDelimiter = ',';
const quotedCell = (cell: string): string => (/[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

async function* sheetRecords(path: string, name: string): AsyncGenerator<ListRecord[]> {
  const rows = await readSpreadsheet(path, name);
  for (let from = 0; from < rows.length; from += block)
    yield rows.slice(from, from + block).map((fields, place) => ({
      row: from + place + 1,
      fields,
      text: fields.map(quotedCell).join(sheetDelimiter),
      problem: null,
    }));
}

/** @throws Problem bad-file, not-found */
export function openSource(
  dataFolder: string,
  input: {
    readonly path?: string | undefined;
    readonly text?: string | undefined;
    readonly uploadId?: string | undefined;
  },
): PriceSource {
  const form: ListForm = { encoding: 'utf-8', delimiter: sheetDelimiter };
  let read = 0;
  const counting = async function* (pieces: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    for await (const piece of pieces) {
      read += piece.length;
      yield piece;
    }
  };
  if (input.text !== undefined) {
    const { text } = input;
    return {
      name: 'typed text',
      form,
      share: () => read / Math.max(1, text.length),
      records: () => readRecords(counting(textPieces(text)), form),
    };
  }
  const file =
    input.uploadId === undefined
      ? { path: input.path as string, name: input.path as string }
      : uploadedFile(dataFolder, input.uploadId);
  const size = fileSize(file.path);
  // By what it is, not by its name: spreadsheets are sent under any name, and lists are named like spreadsheets.
  const isSheet = /\.xlsx$/i.test(file.name) || looksPacked(firstBytes(file.path, 4));
  return {
    name: file.name,
    form,
    share: () => (isSheet ? 0.5 : read / Math.max(1, size)),
    records: () =>
      isSheet ? sheetRecords(file.path, file.name) : readRecords(counting(filePieces(file.path)), form),
  };
}
