import { type ListRecord, rejectsText } from '../parts/index.ts';
import { addRejects, startRejects } from '../store/index.ts';
import type { ImportReport } from './contract.ts';

const mostShown = 50;
/** Lines are written together. */
const writtenAt = 500;

interface Reject {
  readonly record: ListRecord;
  readonly why: string;
}

/** What could not be taken, and what was taken with a note: all of it in a file, the first of each to show. */
export class Rejects {
  readonly #dataFolder: string;
  readonly #name: string;
  readonly #shown: ImportReport['rejected'] = [];
  readonly notes: ImportReport['notes'] = [];
  #headings: readonly string[] = [];
  #waiting: Reject[] = [];
  #file: string | null = null;
  rejected = 0;
  noted = 0;

  /** @param name of the file, with letters, digits and dashes */
  constructor(dataFolder: string, name: string) {
    this.#dataFolder = dataFolder;
    this.#name = `${name}.csv`;
  }

  setHeadings(headings: readonly string[]): void {
    this.#headings = headings;
  }

  reject(record: ListRecord, why: string): void {
    this.rejected += 1;
    this.#waiting.push({ record, why });
    const shown = { row: record.row, why, text: record.text.slice(0, 300) };
    // The first rows of the list, whatever order they are found in.
    const last = this.#shown.at(-1);
    if (!last || this.#shown.length < mostShown || record.row < last.row) {
      if (this.#shown.length === mostShown) this.#shown.pop();
      this.#shown.push(shown);
      this.#shown.sort((a, b) => a.row - b.row);
    }
    this.#writeMany();
  }

  note(record: ListRecord, note: string): void {
    this.noted += 1;
    if (this.notes.length < mostShown)
      this.notes.push({ row: record.row, note, text: record.text.slice(0, 300) });
  }

  #writeMany(): void {
    if (this.#waiting.length >= writtenAt) this.write();
  }

  /** @throws Problem cannot-write */
  write(): void {
    if (this.#waiting.length === 0) return;
    const width = this.#headings.length;
    if (this.#file === null) {
      const headings = rejectsText(
        [{ record: { row: 0, fields: this.#headings, text: '', problem: null }, why: 'reason' }],
        width,
      ).replace(/,0,reason\n$/, ',row,reason\n');
      this.#file = startRejects(this.#dataFolder, this.#name, headings);
    }
    addRejects(this.#file, rejectsText(this.#waiting, width));
    this.#waiting = [];
  }

  get shown(): Pick<ImportReport, 'rejected' | 'notes' | 'rejectsFile' | 'rejectsName'> {
    return {
      rejected: this.#shown,
      notes: this.notes,
      rejectsFile: this.#file,
      rejectsName: this.#file === null ? null : this.#name,
    };
  }
}
