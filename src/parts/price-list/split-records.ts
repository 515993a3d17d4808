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
const longestRecord = 100_000;

/**
 * Cuts text that comes in pieces into records. A quote that is never closed costs its own line only: reading goes on
 * with the line after it. Blank lines are left out.
 */
export class RecordSplitter {
  readonly #delimiter: string;
  #rest = '';
  #line = 0;
  #open: string[] = [];
  #openRow = 0;

  constructor(delimiter: string) {
    this.#delimiter = delimiter;
  }

  push(text: string): RawRecord[] {
    const out: RawRecord[] = [];
    const all = this.#rest + text;
    let from = 0;
    for (;;) {
      const found = nextBreak(all, from);
      // A carriage return at the very end may be half of a line end.
      if (found < 0 || (all[found] === '\r' && found === all.length - 1)) break;
      this.#take(all.slice(from, found), out);
      from = all[found] === '\r' && all[found + 1] === '\n' ? found + 2 : found + 1;
    }
    this.#rest = all.slice(from);
    if (this.#rest.length > longestRecord) {
      this.#line += 1;
      out.push({ row: this.#line, text: this.#rest.slice(0, 200), problem: 'the line is far too long' });
      this.#rest = '';
    }
    return out;
  }

  end(): RawRecord[] {
    const out: RawRecord[] = [];
    const rest = this.#rest.replace(/\r$/, '');
    this.#rest = '';
    if (rest !== '') this.#take(rest, out);
    while (this.#open.length > 0) this.#giveUpFirst(out);
    return out;
  }

  #take(line: string, out: RawRecord[]): void {
    this.#line += 1;
    if (this.#open.length === 0) {
      // Tabs alone are empty fields where tabs part them, as `;;` is with semicolons: such a row is told, not dropped.
      if (line.trim() === '' && !line.includes(this.#delimiter)) return;
      if (!line.includes('"') || isClosed(line, this.#delimiter)) {
        out.push({ row: this.#line, text: line, problem: null });
        return;
      }
      this.#open = [line];
      this.#openRow = this.#line;
      return;
    }
    this.#open.push(line);
    const text = this.#open.join('\n');
    if (line.includes('"') && isClosed(text, this.#delimiter)) {
      out.push({ row: this.#openRow, text, problem: null });
      this.#open = [];
    } else if (this.#open.length >= mostLines) this.#giveUpFirst(out);
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
}

function nextBreak(text: string, from: number): number {
  const feed = text.indexOf('\n', from);
  const carriage = text.indexOf('\r', from);
  if (carriage < 0) return feed;
  return feed < 0 ? carriage : Math.min(feed, carriage);
}

/** Whether every quoted field ends; a quote inside of an unquoted field (as for inches) is a letter like others. */
export function isClosed(text: string, delimiter: string): boolean {
  let at = 0;
  while (at <= text.length) {
    if (text[at] === '"') {
      at += 1;
      for (;;) {
        const quote = text.indexOf('"', at);
        if (quote < 0) return false;
        at = quote + 1;
        if (text[at] !== '"') break;
        at += 1;
      }
    }
    const next = text.indexOf(delimiter, at);
    if (next < 0) return true;
    at = next + delimiter.length;
  }
  return true;
}
