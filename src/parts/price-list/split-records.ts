import { splitFields } from './split-fields.ts';

/** One record of a list as it stands in the file: one line, or more where a quoted field has line breaks. */
export interface RawRecord {
  /** Line of the file on which it begins, from 1. */
  readonly row: number;
  readonly text: string;
  /** Set where it cannot be read. */
  readonly problem: string | null;
}

/** A quoted field may run over so many lines; one that runs longer was never closed. */
const mostLines = 20;
/** A record may have so many signs. */
export const longestRecord = 100_000;
const shownOfLong = 200;
const tooLong = `the line has more than ${longestRecord.toLocaleString('en-US')} signs`;

/**
 * Cuts text that comes in pieces into records, whatever ends its lines: CR LF, LF or CR. A quote that is never closed
 * costs its own line only: reading goes on with the line after it. Blank lines are left out. Holds back one unfinished record.
 */
export class RecordSplitter {
  readonly #delimiter: string;
  #rest = '';
  #line = 0;
  #open: string[] = [];
  #openRow = 0;
  #openSize = 0;
  /** Set inside of a line that is too long: its end is still to come. */
  #isSkipping = false;

  constructor(delimiter: string) {
    this.#delimiter = delimiter;
  }

  push(text: string): RawRecord[] {
    const out: RawRecord[] = [];
    const all = this.#rest + text;
    let from = 0;
    let feed = all.indexOf('\n');
    let carriage = all.indexOf('\r');
    // Each search goes on from where it last found something: a file without carriage returns is searched for them once.
    for (;;) {
      const found = carriage < 0 ? feed : feed < 0 ? carriage : Math.min(feed, carriage);
      if (found < 0) break;
      const isCarriage = found === carriage;
      // A carriage return at the very end may be half of a line end.
      if (isCarriage && found === all.length - 1) break;
      this.#endLine(all.slice(from, found), out);
      from = isCarriage && feed === found + 1 ? found + 2 : found + 1;
      if (feed >= 0 && feed < from) feed = all.indexOf('\n', from);
      if (carriage >= 0 && carriage < from) carriage = all.indexOf('\r', from);
    }
    this.#rest = all.slice(from);
    if (this.#rest.length > longestRecord && this.#rest.length > 1) {
      if (!this.#isSkipping) {
        this.#giveUpAll(out);
        out.push({ row: this.#line + 1, text: this.#rest.slice(0, shownOfLong), problem: tooLong });
      }
      this.#isSkipping = true;
      this.#rest = this.#rest.endsWith('\r') ? '\r' : '';
    }
    return out;
  }

  end(): RawRecord[] {
    const out: RawRecord[] = [];
    const rest = this.#rest.endsWith('\r') ? this.#rest.slice(0, -1) : this.#rest;
    this.#rest = '';
    if (rest !== '' || this.#isSkipping) this.#endLine(rest, out);
    this.#giveUpAll(out);
    return out;
  }

  #endLine(line: string, out: RawRecord[]): void {
    if (this.#isSkipping) {
      this.#isSkipping = false;
      this.#line += 1;
    } else if (line.length > longestRecord) {
      this.#giveUpAll(out);
      this.#line += 1;
      out.push({ row: this.#line, text: line.slice(0, shownOfLong), problem: tooLong });
    } else this.#take(line, out);
  }

  #take(line: string, out: RawRecord[]): void {
    this.#line += 1;
    if (this.#open.length === 0) {
      // Tabs alone are empty fields where tabs part them, as `;;` is with semicolons: such a row is told, not dropped.
      if (line.trim() === '' && !line.includes(this.#delimiter)) return;
      if (!line.includes('"') || splitFields(line, this.#delimiter).state !== 'open') {
        out.push({ row: this.#line, text: line, problem: null });
        return;
      }
      this.#open = [line];
      this.#openSize = line.length;
      this.#openRow = this.#line;
      return;
    }
    this.#open.push(line);
    this.#openSize += line.length + 1;
    if (line.includes('"') && this.#openSize <= longestRecord) {
      const text = this.#open.join('\n');
      // Over more than one line the quotes must come out clean: an inch sign at the start of a field of this line and of a later
      // one would else tie both together.
      if (splitFields(text, this.#delimiter).state === 'clean') {
        out.push({ row: this.#openRow, text, problem: null });
        this.#open = [];
        return;
      }
    }
    if (this.#open.length >= mostLines || this.#openSize > longestRecord) this.#giveUpFirst(out);
  }

  /** The first of the lines held back is bad; those after it are read anew. */
  #giveUpFirst(out: RawRecord[]): void {
    const [first = '', ...later] = this.#open;
    const after = this.#line;
    out.push({ row: this.#openRow, text: first, problem: 'a quote is opened and never closed' });
    this.#open = [];
    this.#line = this.#openRow;
    for (const line of later) this.#take(line, out);
    this.#line = after;
  }

  #giveUpAll(out: RawRecord[]): void {
    while (this.#open.length > 0) this.#giveUpFirst(out);
  }
}
