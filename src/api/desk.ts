import { Problem } from '../problem.ts';
import { type Connection, type Db, type Door, openReader, openStore, type Store } from '../store/index.ts';
import { type BookInUse, BookShelf } from './book-shelf.ts';
import type { Instant } from './instants.ts';
import { type LearnApart, WordLearning } from './word-learning.ts';
import { type Worker, Works } from './works.ts';

export interface HandlerOptions {
  readonly dataFolder: string;
  readonly door: Door;
  /** Folder with the shipped handbook. */
  readonly seedFolder: string;
  /** Folder with what the program learned of the shipped handbook when it was compiled; without it that is learned at the first search. */
  readonly learnedFolder?: string;
  /** Learns changed phrases in another thread; without it the first search after a change waits for that. */
  readonly learnApart?: LearnApart;
  readonly programVersion: string;
  readonly clock: () => Instant;
  /** Time-ordered unique ids (UUIDv7). */
  readonly newId: () => string;
}

/** What every procedure is handed: the database (inside the transaction of a write), the book, the clock. */
export interface Desk {
  readonly options: HandlerOptions;
  readonly db: Db;
  readonly works: Works;
  now(): Instant;
  newId(): string;
  book(): Promise<BookInUse>;
  /** For a report that takes long: says how far it is, and stops it where nobody waits for it any more. */
  readonly pace: Pace;
  /** Only for steps that manage their own transactions: backups, imports, the demo shop. */
  readonly office: Office;
}

/** How a long step lets others in between, and hears that it should stop. */
export type Pace = Pick<Worker, 'tell' | 'breathe'>;

const unwatched: Pace = { tell: () => undefined, breathe: async () => undefined };

/** Everything that a report reads stands in one transaction: what is written meanwhile does not change it. */
export const inSnapshot = <T>(desk: Desk, step: (db: Db) => Promise<T>): Promise<T> =>
  desk.db.isTransaction ? step(desk.db) : desk.db.transaction().execute(step);

/** Data that a backup can take the place of: the program stays open for that, whatever else it refuses. */
export const canBeRestored = (error: unknown): error is Problem =>
  error instanceof Problem && (error.code === 'damaged-database' || error.code === 'newer-database');

/** The open shop behind all desks. One per worker. */
export class Office {
  readonly options: HandlerOptions;
  readonly works = new Works();
  readonly shelf: BookShelf;
  readonly #learning: WordLearning;
  #store: Store | null;
  #reader: Connection | null;
  /** Why the data could not be opened, as long as that lasts. */
  #trouble: Problem | null = null;
  #address: string | null = null;

  constructor(options: HandlerOptions, store: Store | null, reader: Connection | null) {
    this.options = options;
    this.#store = store;
    this.#reader = reader;
    const { dataFolder, learnedFolder } = options;
    this.#learning = new WordLearning({ dataFolder, learnedFolder }, options.learnApart);
    this.shelf = new BookShelf(options.seedFolder, this.#learning);
  }

  static async open(options: HandlerOptions, mode: 'write' | 'report'): Promise<Office> {
    if (mode === 'report') return new Office(options, null, await openReader(options.dataFolder));
    const office = new Office(options, null, null);
    try {
      await office.#openStore();
    } catch (error) {
      if (!canBeRestored(error)) throw error;
      office.#trouble = error;
    }
    return office;
  }

  async #openStore(): Promise<void> {
    const { dataFolder, door, clock } = this.options;
    const store = await openStore(dataFolder, door, clock().ms);
    try {
      this.shelf.forget();
      await store.write((db) => this.shelf.loadShipped(db, clock(), 'first'));
    } catch (error) {
      await store.close();
      throw error;
    }
    this.#store = store;
    this.#trouble = null;
    if (this.#address !== null) store.held.tell(this.#address);
  }

  /** @throws Problem damaged-database or newer-database while the data is such; database-busy while it is closed */
  get store(): Store {
    if (this.#trouble) throw this.#trouble;
    if (!this.#store) throw new Problem('database-busy', 'The shop data is closed at the moment.');
    return this.#store;
  }

  /** Where the data could not be opened: looks whether somebody has put it right meanwhile. */
  async tryAgain(): Promise<void> {
    if (!this.#trouble) return;
    try {
      await this.#openStore();
    } catch (error) {
      if (!canBeRestored(error)) throw error;
      this.#trouble = error;
    }
  }

  /** Tells other programs where this one answers, also after the data was closed and opened again. */
  tellAddress(address: string): void {
    this.#address = address;
    this.#store?.held.tell(address);
  }

  /** The connection for reading. */
  get db(): Db {
    return this.#reader ? this.#reader.db : this.store.db;
  }

  /** @param db the connection of a transaction; else the one for reading, asked for only by the steps that need the data open */
  desk(db?: Db, pace = unwatched): Desk {
    const office = this;
    return {
      pace,
      options: this.options,
      get db() {
        return db ?? office.db;
      },
      works: this.works,
      now: this.options.clock,
      newId: this.options.newId,
      book: () => this.shelf.inUse(db ?? this.db),
      office: this,
    };
  }

  /** Closes the data for a step that needs it closed, and opens it again whatever happens. */
  async whileClosed<T>(step: () => Promise<T>): Promise<T> {
    await this.#store?.close();
    this.#store = null;
    try {
      return await step();
    } finally {
      await this.#openStore();
    }
  }

  /** Builds what is built when first asked. */
  async warmUp(): Promise<void> {
    try {
      await (await this.shelf.inUse(this.db)).finder();
    } catch (error) {
      // The first real question will say what is wrong.
      if (!(error instanceof Problem)) console.error(error);
    }
  }

  async close(): Promise<void> {
    this.works.cancelAll();
    this.#learning.close();
    await this.#store?.close();
    await this.#reader?.close();
    this.#store = null;
    this.#reader = null;
  }
}
