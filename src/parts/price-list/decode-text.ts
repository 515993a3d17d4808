import { Problem } from '../../problem.ts';

export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** So many bytes are looked at before the first letter is handed out. */
const headSize = 4096;

/**
 * Turns the bytes of a price list into text piece by piece. A byte order mark decides; without one every other byte
 * being 0 means UTF-16; else it is UTF-8 as long as it can be, and Windows-1252 from the first byte that cannot be UTF-8.
 * In a list that showed whole UTF-8 signs before, a bad byte is a broken place (U+FFFD) for which its row answers.
 * @throws Problem bad-file where the first bytes are those of another kind of file
 */
export class TextReader {
  #encoding: TextEncoding | null = null;
  #decoder = new TextDecoder('utf-8');
  #sawMultibyte = false;
  #isStart = true;
  /** Bytes held back: the head before it is judged, then a sign of several bytes that was cut. */
  #rest: Uint8Array = new Uint8Array(0);

  get encoding(): TextEncoding {
    return this.#encoding ?? 'utf-8';
  }

  push(bytes: Uint8Array): string {
    const all = joined(this.#rest, bytes);
    if (this.#encoding === null && all.length < headSize) {
      this.#rest = all;
      return '';
    }
    return this.#decode(all);
  }

  end(): string {
    const text = this.#decode(this.#rest);
    const rest = this.#rest;
    this.#rest = new Uint8Array(0);
    return (
      text + (this.#encoding === 'utf-8' ? (rest.length > 0 ? this.#utf8(rest) : '') : this.#decoder.decode())
    );
  }

  #decode(all: Uint8Array): string {
    if (this.#encoding === null) {
      this.#encoding = findEncoding(all);
      this.#decoder = new TextDecoder(this.#encoding);
    }
    this.#rest = new Uint8Array(0);
    if (this.#encoding !== 'utf-8') return this.#decoder.decode(all, { stream: true });
    const cut = cutSign(all);
    this.#rest = all.slice(cut);
    return this.#utf8(all.subarray(0, cut));
  }

  #utf8(bytes: Uint8Array): string {
    const ignoreBOM = !this.#isStart;
    this.#isStart = false;
    try {
      const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM }).decode(bytes);
      if (!this.#sawMultibyte && text.length < bytes.length) this.#sawMultibyte = true;
      return text;
    } catch {
      const text = new TextDecoder('utf-8', { ignoreBOM }).decode(bytes);
      if (this.#sawMultibyte || wholeSigns(text) > brokenSigns(text)) {
        this.#sawMultibyte = true;
        return text;
      }
      this.#encoding = 'windows-1252';
      this.#decoder = new TextDecoder('windows-1252');
      return this.#decoder.decode(bytes, { stream: true });
    }
  }
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const all = new Uint8Array(a.length + b.length);
  all.set(a);
  all.set(b, a.length);
  return all;
}

const brokenSigns = (text: string): number => text.split('\ufffd').length - 1;
const wholeSigns = (text: string): number => (text.match(/[^\p{ASCII}\ufffd]/gu) ?? []).length;

/** First bytes of files that are taken for lists by mistake (their formats' own specifications). */
const strangers: readonly { readonly bytes: readonly number[]; readonly what: string }[] = [
  { bytes: [0x50, 0x4b, 0x03, 0x04], what: 'a ZIP archive or a spreadsheet; name it .xlsx if it is one' },
  { bytes: [0xd0, 0xcf, 0x11, 0xe0], what: 'a spreadsheet of the old kind (.xls); save it as .xlsx or CSV' },
  { bytes: [0x25, 0x50, 0x44, 0x46, 0x2d], what: 'a PDF; ask the supplier for CSV or XLSX' },
  { bytes: [0x1f, 0x8b], what: 'a compressed file (.gz); unpack it first' },
  { bytes: [0x52, 0x61, 0x72, 0x21], what: 'a packed archive (.rar); unpack it first' },
  { bytes: [0x37, 0x7a, 0xbc, 0xaf], what: 'a packed archive (.7z); unpack it first' },
  { bytes: [0x89, 0x50, 0x4e, 0x47], what: 'a picture' },
  { bytes: [0xff, 0xd8, 0xff], what: 'a picture' },
  { bytes: [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66], what: 'a database' },
];

/** Whether the file begins as a spreadsheet of the present kind (a ZIP archive, ECMA-376 part 2). */
export const looksPacked = (head: Uint8Array): boolean => begins(head, [0x50, 0x4b, 0x03, 0x04]);

const begins = (head: Uint8Array, bytes: readonly number[]): boolean =>
  bytes.every((byte, place) => head[place] === byte);

function findEncoding(head: Uint8Array): TextEncoding {
  const stranger = strangers.find(({ bytes }) => begins(head, bytes));
  if (stranger) throw new Problem('bad-file', `This is no list but ${stranger.what}.`, { row: 1 });
  if (begins(head, [0xff, 0xfe])) return 'utf-16le';
  if (begins(head, [0xfe, 0xff])) return 'utf-16be';
  const zeros: [number, number] = [0, 0];
  const looked = Math.min(head.length, headSize);
  for (let at = 0; at < looked; at += 1) if (head[at] === 0) zeros[(at % 2) as 0 | 1] += 1;
  // Latin letters and digits in UTF-16 have a 0 in every other byte; two in five leaves room for other signs.
  if (zeros[1] > looked * 0.2 && zeros[0] < looked * 0.02) return 'utf-16le';
  if (zeros[0] > looked * 0.2 && zeros[1] < looked * 0.02) return 'utf-16be';
  if (zeros[0] + zeros[1] > looked * 0.1)
    throw new Problem('bad-file', 'This is no list: its bytes are not those of a text.', { row: 1 });
  return 'utf-8';
}

/** Where the last whole sign of UTF-8 ends. */
function cutSign(bytes: Uint8Array): number {
  for (let back = 1; back <= 3 && back <= bytes.length; back += 1) {
    const byte = bytes[bytes.length - back] as number;
    if (byte < 0x80) return bytes.length;
    if (byte >= 0xc0) {
      const needs = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
      return back < needs ? bytes.length - back : bytes.length;
    }
  }
  return bytes.length;
}
