import { closeSync, mkdirSync, openSync, readdirSync, readSync, rmSync, statSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { asProblem } from './sqlite.ts';

/** A stretch of the file whose lines stand in order. */
interface Run {
  at: number;
  end: number;
  /** Bytes read and not yet handed out: the beginning of a line. */
  rest: Buffer;
  lines: string[];
  next: number;
}

const runLines = 8192;
const runSigns = 2_000_000;
const pieceBytes = 16 * 1024;
const newline = 10;

const folderOf = (dataFolder: string): string => join(dataFolder, 'sorting');

/**
 * Sorts any number of lines by their text within a few megabytes: what is added is written to a file in sorted stretches,
 * which are then read side by side (merge sort on disk: Knuth, The Art of Computer Programming, volume 3, section 5.4).
 * Order is that of UTF-16 code units. Lines hold no line feed and are well-formed.
 */
export class SortedLines {
  readonly #file: string;
  readonly #handle: number;
  readonly #runs: Run[] = [];
  #waiting: string[] = [];
  #signs = 0;
  #isInOrder = true;
  #last = '';
  /** Last line of the last run: what goes on from there makes it longer, so that a list in order is one run. */
  #lastOfRun = '';
  #size = 0;
  #count = 0;
  #isOpen = true;

  /** @param name of the file, which belongs to this sorting alone. @throws Problem cannot-write */
  constructor(dataFolder: string, name: string) {
    this.#file = join(folderOf(dataFolder), `${name}.lines`);
    try {
      mkdirSync(folderOf(dataFolder), { recursive: true });
      this.#handle = openSync(this.#file, 'w+', 0o600);
    } catch (error) {
      throw asProblem(error, this.#file);
    }
  }

  get count(): number {
    return this.#count;
  }

  /** @throws Problem cannot-write */
  add(line: string): void {
    if (line < this.#last) this.#isInOrder = false;
    this.#last = line;
    this.#waiting.push(line);
    this.#signs += line.length;
    this.#count += 1;
    if (this.#waiting.length >= runLines || this.#signs >= runSigns) this.#writeRun();
  }

  #writeRun(): void {
    if (this.#waiting.length === 0) return;
    if (!this.#isInOrder) this.#waiting.sort();
    const before = this.#runs.at(-1);
    const goesOn = before !== undefined && (this.#waiting[0] as string) >= this.#lastOfRun;
    this.#lastOfRun = this.#waiting.at(-1) as string;
    const bytes = Buffer.from(`${this.#waiting.join('\n')}\n`, 'utf8');
    try {
      for (let done = 0; done < bytes.length; )
        done += writeSync(this.#handle, bytes, done, bytes.length - done, this.#size + done);
    } catch (error) {
      throw asProblem(error, this.#file);
    }
    const end = this.#size + bytes.length;
    if (goesOn) before.end = end;
    else this.#runs.push({ at: this.#size, end, rest: Buffer.alloc(0), lines: [], next: 0 });
    this.#size = end;
    this.#waiting = [];
    this.#signs = 0;
    this.#isInOrder = true;
    this.#last = '';
  }

  /** All lines in order, in blocks. @throws Problem cannot-write where the file cannot be read back */
  *read(block: number): Generator<string[]> {
    this.#writeRun();
    // A heap of runs, the one with the least line on top.
    const heap: Run[] = [];
    const head = (run: Run): string => run.lines[run.next] as string;
    const sink = (from: number): void => {
      let at = from;
      const run = heap[at] as Run;
      for (;;) {
        let least = 2 * at + 1;
        if (least >= heap.length) break;
        if (least + 1 < heap.length && head(heap[least + 1] as Run) < head(heap[least] as Run)) least += 1;
        if (head(run) <= head(heap[least] as Run)) break;
        heap[at] = heap[least] as Run;
        at = least;
      }
      heap[at] = run;
    };
    for (const run of this.#runs) if (this.#fill(run)) heap.push(run);
    for (let at = (heap.length >> 1) - 1; at >= 0; at -= 1) sink(at);
    let out: string[] = [];
    while (heap.length > 0) {
      const top = heap[0] as Run;
      out.push(head(top));
      top.next += 1;
      if (top.next >= top.lines.length && !this.#fill(top)) {
        const last = heap.pop() as Run;
        if (heap.length > 0) heap[0] = last;
      }
      if (heap.length > 1) sink(0);
      if (out.length >= block) {
        yield out;
        out = [];
      }
    }
    if (out.length > 0) yield out;
  }

  /** Loads the next lines of a run; false at its end. */
  #fill(run: Run): boolean {
    run.lines = [];
    run.next = 0;
    try {
      while (run.at < run.end) {
        const piece = Buffer.allocUnsafe(Math.min(pieceBytes, run.end - run.at));
        const got = readSync(this.#handle, piece, 0, piece.length, run.at);
        if (got === 0) break;
        run.at += got;
        const cut = piece.lastIndexOf(newline, got - 1);
        if (cut < 0) {
          // A line longer than a piece.
          run.rest = Buffer.concat([run.rest, piece.subarray(0, got)]);
          continue;
        }
        // Joined as bytes: a sign of several bytes may lie across the cut.
        const whole = piece.subarray(0, cut);
        const text = run.rest.length === 0 ? whole : Buffer.concat([run.rest, whole]);
        run.lines = text.toString('utf8').split('\n');
        run.rest = Buffer.from(piece.subarray(cut + 1, got));
        return true;
      }
    } catch (error) {
      throw asProblem(error, this.#file);
    }
    return false;
  }

  /** Removes the file. */
  close(): void {
    if (!this.#isOpen) return;
    this.#isOpen = false;
    closeSync(this.#handle);
    rmSync(this.#file, { force: true });
  }
}

/** Removes what a program that was cut off left behind. @param beforeMs only files not written to since */
export function sweepSorting(dataFolder: string, beforeMs: number): void {
  let names: string[];
  try {
    names = readdirSync(folderOf(dataFolder));
  } catch {
    // Nothing was ever sorted here.
    return;
  }
  for (const name of names) {
    const file = join(folderOf(dataFolder), name);
    const age = statSync(file, { throwIfNoEntry: false });
    try {
      if (age && age.mtimeMs < beforeMs) rmSync(file, { force: true });
    } catch {
      // In use where a system keeps such files from being removed: the next sweep takes it.
    }
  }
}
