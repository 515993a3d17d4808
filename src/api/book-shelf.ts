import type { Book, Model } from '../book/index.ts';
import { type Circuit, readCircuit } from '../circuit/index.ts';
import { type WiringCache, type WiringLikelihood, wiringLikelihood } from '../diagnosis/index.ts';
import {
  buildBook,
  type Conflict,
  type Entry,
  type EntryKind,
  findingLine,
  mergeHandbooks,
  readHandbook,
} from '../handbook/index.ts';
import { Problem } from '../problem.ts';
import {
  type Db,
  digestOf,
  type HandbookEntryRow,
  keepChange,
  learnedWords,
  loadEntries,
  readSetting,
  readYamlFolder,
  removeEntry,
  saveEntry,
  writeSetting,
} from '../store/index.ts';
import type { Finder } from '../symptom/index.ts';
import type { CircuitId } from '../terms.ts';
import type { Instant } from './instants.ts';
import type { WordLearning } from './word-learning.ts';

/** The book as it is in use: one object until the content changes. */
export interface BookInUse {
  readonly book: Book;
  /** The search. Waits only where nothing was ever learned; while a changed book is learned, the numbers before answer. */
  finder(): Promise<Finder>;
  circuit(id: string): Circuit | null;
  /** What the wiring of a model says about readings; null where the book draws none of its circuits. */
  wiringFor(model: Model | null): WiringLikelihood | null;
}

const stampKey = 'book_stamp';
const shippedKey = 'shipped_handbook';
/** Where shop and shipped handbook changed the same thing: settings key of the open conflicts. */
export const conflictsKey = 'handbook_conflicts';

export const entryOfRow = (row: HandbookEntryRow): Entry | null =>
  row.body === null
    ? null
    : {
        kind: row.kind as EntryKind,
        id: row.id,
        body: JSON.parse(row.body) as Entry['body'],
        path: row.path,
        line: 0,
        fieldLines: {},
      };

/** Loads the shipped handbook into the shop data, and keeps the book in use at hand. */
export class BookShelf {
  readonly #seedFolder: string;
  readonly #learning: WordLearning;
  #inUse: { readonly stamp: string; readonly use: BookInUse } | null = null;

  constructor(seedFolder: string, learning: WordLearning) {
    this.#seedFolder = seedFolder;
    this.#learning = learning;
  }

  forget(): void {
    this.#inUse = null;
  }

  /** Marks the book as changed, for this program and any other beside it. */
  async touch(db: Db): Promise<string> {
    const rows = await loadEntries(db);
    const words = await learnedWords(db);
    const stamp = digestOf([
      rows.map((row) => [row.kind, row.id, row.body]),
      words.map((word) => [word.symptom_id, word.text]),
    ]).slice(0, 12);
    await writeSetting(db, stampKey, stamp);
    return stamp;
  }

  /**
   * Takes the shipped handbook where it is new or differs from the one taken last. What the shop edited stays as the
   * shop wrote it.
   * @returns how many entries changed
   * @throws Problem bad-handbook when the shipped files do not read
   */
  async loadShipped(db: Db, now: Instant, mode: 'first' | 'reload'): Promise<number> {
    const files = readYamlFolder(this.#seedFolder);
    const digest = digestOf(files);
    if (mode === 'first' && (await readSetting(db, shippedKey)) === digest) return 0;
    const { entries, findings } = readHandbook(files);
    const all = [...findings, ...buildBook(entries, 'shipped').findings];
    const error = all.find((finding) => finding.severity === 'error');
    if (error)
      throw new Problem('bad-handbook', `The shipped handbook has an error: ${findingLine(error)}`, {
        file: error.file,
        line: error.line,
        ...(error.field ? { field: error.field } : {}),
      });

    const rows = await loadEntries(db);
    const present = new Map(rows.map((row) => [`${row.kind} ${row.id}`, row]));
    const edited = rows.filter((row) => row.body !== row.shipped);
    // Only what the shop touched needs a merge; the rest is taken as shipped.
    const keys = new Set(edited.map((row) => `${row.kind} ${row.id}`));
    const side = (text: (row: HandbookEntryRow) => string | null): Entry[] =>
      edited.map((row) => entryOfRow({ ...row, body: text(row) })).filter((entry) => entry !== null);
    const merged = mergeHandbooks(
      side((row) => row.shipped),
      entries.filter((entry) => keys.has(`${entry.kind} ${entry.id}`)),
      side((row) => row.body),
    );
    const mergedBody = new Map(
      merged.entries.map((entry) => [`${entry.kind} ${entry.id}`, JSON.stringify(entry.body)]),
    );
    let changed = 0;
    for (const [position, entry] of entries.entries()) {
      const key = `${entry.kind} ${entry.id}`;
      const row = present.get(key);
      present.delete(key);
      const shipped = JSON.stringify(entry.body);
      if (row && row.shipped === shipped && row.path === entry.path && row.position === position) continue;
      const body = keys.has(key) ? (mergedBody.get(key) ?? null) : shipped;
      await saveEntry(db, { kind: entry.kind, id: entry.id, path: entry.path, position, body, shipped });
      if (row?.shipped !== shipped) changed += 1;
    }
    // What the new handbook no longer has goes, unless the shop wrote or edited it.
    for (const row of present.values()) {
      if (row.shipped === null) continue;
      if (row.body === row.shipped) await removeEntry(db, row.kind, row.id);
      else await saveEntry(db, { ...row, shipped: null });
      changed += 1;
    }
    await this.#standDown(db, keys, now);
    if (merged.conflicts.length > 0) {
      const open = JSON.parse((await readSetting(db, conflictsKey)) ?? '[]') as Conflict[];
      await writeSetting(db, conflictsKey, JSON.stringify([...open, ...merged.conflicts]));
    }
    await writeSetting(db, shippedKey, digest);
    await this.touch(db);
    if (mode === 'reload' && changed > 0)
      await keepChange(db, {
        at_ms: now.ms,
        at_offset: now.offset,
        who: 'Bench Tally',
        why: `took ${changed} entries of the shipped handbook`,
        kind: 'handbook',
        id: 'shipped',
        before: null,
        after: null,
        undoes: null,
      });
    return changed;
  }

  /**
   * The shop's edits may not fit a new shipped handbook (an entry they name is gone). The book must open all the same: such
   * an edit stands down for the shipped form, and stays in the history with its text.
   */
  async #standDown(db: Db, edited: ReadonlySet<string>, now: Instant): Promise<void> {
    if (edited.size === 0) return;
    for (let round = 0; round < 20; round += 1) {
      const rows = await loadEntries(db);
      const entries = rows.map(entryOfRow).filter((entry) => entry !== null);
      const error = buildBook(entries, 'merged').findings.find((finding) => finding.severity === 'error');
      if (!error) return;
      const isEdited = (row: HandbookEntryRow): boolean =>
        row.body !== row.shipped && edited.has(`${row.kind} ${row.id}`);
      const named = rows.filter((row) => isEdited(row) && row.id === error.id);
      for (const row of named.length > 0 ? named : rows.filter(isEdited)) {
        if (row.shipped === null) await removeEntry(db, row.kind, row.id);
        else await saveEntry(db, { ...row, body: row.shipped });
        await keepChange(db, {
          at_ms: now.ms,
          at_offset: now.offset,
          who: 'Bench Tally',
          why: `did not fit the new shipped handbook: ${error.message}`,
          kind: row.kind,
          id: row.id,
          before: row.body,
          after: row.shipped,
          undoes: null,
        });
      }
    }
  }

  /** The book as the shop data has it now; built again only when its stamp moved. */
  async inUse(db: Db): Promise<BookInUse> {
    const stamp = (await readSetting(db, stampKey)) ?? '';
    if (this.#inUse?.stamp === stamp) return this.#inUse.use;
    const rows = await loadEntries(db);
    const entries = rows.map(entryOfRow).filter((entry) => entry !== null);
    const { book, findings } = buildBook(entries, stamp);
    const error = findings.find((finding) => finding.severity === 'error');
    if (error)
      throw new Problem('bad-handbook', `The handbook in use has an error: ${findingLine(error)}`, {
        ...(error.id ? { id: error.id } : {}),
        ...(error.field ? { field: error.field } : {}),
      });
    const learned = (await learnedWords(db)).map((row) => ({ symptomId: row.symptom_id, text: row.text }));
    const use = makeUse(book, this.#learning.searchOf(book, learned));
    this.#inUse = { stamp, use };
    return use;
  }
}

/** A book with what is worked out from it: the search, the circuits, what the wiring says. */
const makeUse = (book: Book, finder: () => Promise<Finder>): BookInUse => ({
  book,
  // Made when first asked: a call from the shell that only saves a job does not wait for it.
  finder,
  ...wiringOf(book),
});

/** The circuits of a book and what they say, each worked out when first asked. */
export function wiringOf(book: Book): Pick<BookInUse, 'circuit' | 'wiringFor'> {
  let circuits: ReadonlyMap<CircuitId, Circuit> | null = null;
  const allCircuits = (): ReadonlyMap<CircuitId, Circuit> => {
    circuits ??= new Map([...book.circuits].map(([id, raw]) => [id as CircuitId, readCircuit(raw)]));
    return circuits;
  };
  const solved: WiringCache = new Map();
  const wiring = new Map<string, WiringLikelihood | null>();
  return {
    circuit: (id) => allCircuits().get(id as CircuitId) ?? null,
    wiringFor(model) {
      const key = model?.id ?? '';
      const known = wiring.get(key);
      if (known !== undefined) return known;
      const made = wiringLikelihood(book, allCircuits(), model, solved);
      wiring.set(key, made);
      return made;
    },
  };
}
