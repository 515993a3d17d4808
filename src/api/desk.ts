import { Problem } from '../problem.ts';
import { type Connection, type Db, type Door, openReader, openStore, type Store } from '../store/index.ts';
import { type BookInUse, BookShelf } from './book-shelf.ts';
import type { Instant } from './instants.ts';
import { type Worker, Works } from './works.ts';

export interface HandlerOptions {
  readonly dataFolder: string;
  readonly door: Door;
  /** Folder with the shipped handbook. */
  readonly seedFolder: string;
  /** Folder with what the program learned of the shipped handbook when it was compiled; without it that is learned at the first search. */
  readonly learnedFolder?: string;
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

/** The open shop behind all desks. One per worker. */
export class Office {
  readonly options: HandlerOptions;
  readonly works = new Works();
  readonly shelf: BookShelf;
  #store: Store | null;
  #reader: Connection | null;

  constructor(options: HandlerOptions, store: Store | null, reader: Connection | null) {
    this.options = options;
    this.#store = store;
    this.#reader = reader;
    this.shelf = new BookShelf(options.seedFolder, options.dataFolder, options.learnedFolder);
  }

  static async open(options: HandlerOptions, mode: 'write' | 'report'): Promise<Office> {
    if (mode === 'report') return new Office(options, null, await openReader(options.dataFolder));
    const store = await openStore(options.dataFolder, options.door, options.clock().ms);
    const office = new Office(options, store, null);
    try {
      await store.write((db) => office.shelf.loadShipped(db, options.clock(), 'first'));
    } catch (error) {
      await store.close();
      throw error;
    }
    return office;
  }

  get store(): Store {
    if (!this.#store) throw new Problem('database-busy', 'The shop data is closed at the moment.');
    return this.#store;
  }

  /** The connection for reading. */
  get db(): Db {
    return this.#reader ? this.#reader.db : this.store.db;
  }

  desk(db: Db, pace = unwatched): Desk {
    return {
      pace,
      options: this.options,
      db,
      works: this.works,
      now: this.options.clock,
      newId: this.options.newId,
      book: () => this.shelf.inUse(db),
      office: this,
    };
  }

  /** Closes the data for a step that needs it closed, and opens it again whatever happens. */
  async whileClosed<T>(step: () => Promise<T>): Promise<T> {
    await this.store.close();
    this.#store = null;
    try {
      return await step();
    } finally {
      const store = await openStore(this.options.dataFolder, this.options.door, this.options.clock().ms);
      this.#store = store;
      this.shelf.forget();
      await store.write((db) => this.shelf.loadShipped(db, this.options.clock(), 'first'));
    }
  }

  /** Builds what is built when first asked. */
  async warmUp(): Promise<void> {
    try {
      (await this.shelf.inUse(this.db)).finder.find('', { limit: 1 });
    } catch (error) {
      // The first real question will say what is wrong.
      if (!(error instanceof Problem)) console.error(error);
    }
  }

  async close(): Promise<void> {
    this.works.cancelAll();
    await this.#store?.close();
    await this.#reader?.close();
    this.#store = null;
    this.#reader = null;
  }
}
