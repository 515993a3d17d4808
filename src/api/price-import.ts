import {
  type DecimalSign,
  findColumns,
  findDecimalSign,
  type ListRecord,
  type ListRow,
  type Mapping,
  mappingFor,
  mostLinesBefore,
  noColumns,
  type Places,
  readRow,
  SortedRow,
  toLine,
  toMark,
} from '../parts/index.ts';
import {
  beginImport,
  dropUpload,
  findSupplier,
  giveUpImport,
  type IncomingPrice,
  inBulkTransaction,
  keepSupplier,
  leftOver,
  type PresentPrice,
  PriceBook,
  SortedLines,
  showImport,
} from '../store/index.ts';
import type { ImportReport, ListMapping, ParsedInputOf } from './contract.ts';
import type { Office } from './desk.ts';
import { Rejects } from './price-rejects.ts';
import { openSource, type PriceSource } from './price-source.ts';
import { readShopSettings } from './settings.ts';
import type { Worker } from './works.ts';

/** Rows of one short transaction: saving a job waits no longer than for one of them. */
const block = 2000;
const clearedAtOnce = 5000;
const mostShown = 50;
/** Headings are looked for once so many records are there, and the decimal sign told from so many prices. */
const sampleRecords = 200;
const samplePrices = 2000;

/**
 * One reading of one list, from the first piece to the commit that shows it. Rows that come in the order of their numbers meet
 * what the book has at once, block by block in the order of its own index. A row that comes behind a higher number waits: all such
 * rows are sorted by number on disk, within a few megabytes whatever the length of the list, and follow in that order, which
 * loads a shuffled list as fast as a sorted one.
 */
export class PriceImport {
  readonly #office: Office;
  readonly #worker: Worker;
  readonly #input: ParsedInputOf<'parts.importPrices'>;
  readonly #supplierId: string;
  readonly #source: PriceSource;
  readonly #rejects: Rejects;
  readonly #counts = { rows: 0, new: 0, changed: 0, unchanged: 0 };
  readonly #shown: Pick<ImportReport, 'changed' | 'added'> = { changed: [], added: [] };
  readonly #book: PriceBook;
  #headings: readonly string[] = [];
  #headingsRow = 0;
  #places: Places | null = null;
  #sign: DecimalSign | null = null;
  #waiting: ListRecord[] = [];
  /** Rows in order on their way into the book, and the highest part of all such. */
  #inOrder: ListRow[] = [];
  #highest = '';
  #outOfOrder = 0;
  #generation: number | null = null;
  #currency = '';

  /** @throws Problem bad-file, not-found where there is no such file */
  constructor(
    office: Office,
    worker: Worker,
    input: ParsedInputOf<'parts.importPrices'>,
    supplierId: string,
  ) {
    const { dataFolder, clock } = office.options;
    this.#office = office;
    this.#worker = worker;
    this.#input = input;
    this.#supplierId = supplierId;
    this.#source = openSource(dataFolder, input);
    this.#rejects = new Rejects(dataFolder, `${supplierId}-${input.dryRun ? 'dry-run-' : ''}${clock().ms}`);
    this.#book = new PriceBook(office.store.connection, supplierId);
  }

  async run(): Promise<ImportReport> {
    const { uploadId, dryRun } = this.#input;
    const { store, options } = this.#office;
    this.#currency = (await readShopSettings(store.db)).currency;
    for (const { generation } of await leftOver(store.db, this.#supplierId)) await this.#clear(generation);
    const known = await findSupplier(store.db, this.#supplierId);
    const lines = new SortedLines(options.dataFolder, options.newId());
    try {
      await this.#readAll(lines, known?.mapping ? (JSON.parse(known.mapping) as Mapping) : null);
      await this.#mergeAll(lines);
      const report = await this.#finish();
      if (uploadId !== undefined && !dryRun) dropUpload(options.dataFolder, uploadId);
      return report;
    } catch (error) {
      if (this.#generation !== null) await this.#clear(this.#generation);
      throw error;
    } finally {
      lines.close();
    }
  }

  async #readAll(lines: SortedLines, remembered: Mapping | null): Promise<void> {
    for await (const some of this.#source.records()) {
      this.#take(some, lines, remembered, false);
      await this.#keepInOrder(block);
      this.#worker.tell(this.#shareRead(), `${this.#counts.rows} rows read`);
      await this.#worker.breathe();
    }
    this.#take([], lines, remembered, true);
    await this.#keepInOrder(1);
    this.#rejects.write();
  }

  /** How much is done while the list is read: the rows that wait for their order are half done. */
  #shareRead(): number {
    return this.#source.share() * (0.95 - (0.45 * this.#outOfOrder) / Math.max(1, this.#counts.rows));
  }

  /** Keeps the rows in order block by block. @param least fewer rows wait for more */
  async #keepInOrder(least: number): Promise<void> {
    let from = 0;
    for (; this.#inOrder.length - from >= least; from += block) {
      await this.#keep(this.#inOrder.slice(from, from + block));
      await this.#worker.breathe();
    }
    this.#inOrder = this.#inOrder.slice(from);
  }

  /** Compares rows of different parts with the book; what is new goes into the hidden generation in one short transaction. */
  async #keep(rows: readonly ListRow[]): Promise<void> {
    const generation = await this.#begin();
    if (generation === null) this.#changesAmong(rows);
    else
      await inBulkTransaction(this.#office.store.connection, () =>
        this.#book.add(generation, this.#changesAmong(rows)),
      );
  }

  /** Opens the hidden generation, once; a dry run has none. */
  async #begin(): Promise<number | null> {
    const { supplier, dryRun } = this.#input;
    if (dryRun || this.#generation !== null) return this.#generation;
    const { ms, offset } = this.#office.options.clock();
    this.#generation = await this.#office.store.write(async (db) => {
      await keepSupplier(db, this.#supplierId, supplier);
      return beginImport(db, { supplierId: this.#supplierId, file: this.#source.name, ms, offset });
    });
    return this.#generation;
  }

  /** Reads headings from the first lines, then the decimal sign from the first prices, then everything. */
  #take(
    records: readonly ListRecord[],
    lines: SortedLines,
    remembered: Mapping | null,
    isEnd: boolean,
  ): void {
    for (const record of records)
      if (record.problem !== null || record.fields.some((field) => field !== '')) this.#waiting.push(record);
    if (!this.#places) {
      if (!isEnd && this.#waiting.length < sampleRecords) return;
      this.#findHeadings(remembered);
    }
    const places = this.#places as Places | null;
    if (!places || (this.#sign === null && !isEnd && this.#waiting.length < sampleRecords)) return;
    this.#sign ??=
      this.#input.decimalSign ??
      findDecimalSign(
        this.#waiting.slice(0, samplePrices).map((record) => record.fields[places.price ?? 0] ?? ''),
        this.#source.form.delimiter,
      );
    for (const record of this.#waiting) {
      this.#counts.rows += 1;
      const read = readRow(record, places, this.#sign, this.#currency, this.#headings.length);
      if (!read.ok) {
        this.#rejects.reject(record, read.why);
        continue;
      }
      if (read.note !== null) this.#rejects.note(record, read.note);
      if (read.row.partId > this.#highest) {
        this.#highest = read.row.partId;
        this.#inOrder.push(read.row);
        lines.add(toMark(read.row, record));
      } else {
        this.#outOfOrder += 1;
        lines.add(toLine(read.row, record));
      }
    }
    this.#waiting = [];
  }

  #findHeadings(remembered: Mapping | null): void {
    const first = this.#waiting.slice(0, mostLinesBefore);
    // A mapping that was given must fit; one that is only remembered may be of an older form of the list.
    const tries: (Mapping | null)[] = this.#input.mapping
      ? [this.#input.mapping]
      : remembered
        ? [remembered, null]
        : [null];
    for (const mapping of tries)
      for (const [place, record] of first.entries()) {
        const places = findColumns(record.fields, mapping);
        if (!places) continue;
        this.#places = places;
        this.#headings = record.fields;
        this.#headingsRow = record.row;
        this.#rejects.setHeadings(record.fields);
        this.#waiting.splice(0, place + 1);
        return;
      }
    throw noColumns(
      first.map((record) => record.fields),
      tries[0] ?? null,
    );
  }

  /** What waited for its order, among the marks of what did not have to. */
  async #mergeAll(lines: SortedLines): Promise<void> {
    const { delimiter } = this.#source.form;
    const before = this.#shareRead();
    let done = 0;
    let last: SortedRow | null = null;
    for (const some of this.#outOfOrder === 0 ? [] : lines.read(block)) {
      const rows: SortedRow[] = [];
      for (const line of some) {
        const row = new SortedRow(line);
        if (last !== null && last.partId === row.partId)
          this.#rejects.reject(
            row.record(delimiter),
            `the number ${row.number} stands in row ${last.at} already`,
          );
        else {
          last = row;
          if (!row.isMark) rows.push(row);
        }
      }
      await this.#keep(rows);
      done += some.length;
      this.#worker.tell(
        before + ((0.99 - before) * done) / lines.count,
        `${done} of ${lines.count} rows compared`,
      );
      await this.#worker.breathe();
    }
    if ((await this.#begin()) !== null)
      await inBulkTransaction(this.#office.store.connection, () => this.#book.addWords());
    this.#rejects.write();
  }

  /** Rows that are new or say something new. */
  #changesAmong(rows: readonly ListRow[]): IncomingPrice[] {
    const present = this.#book.present(rows.map((row) => row.partId));
    const changes: IncomingPrice[] = [];
    for (const row of rows) {
      const old = present.get(row.partId);
      if (old && isSame(old, row)) {
        this.#counts.unchanged += 1;
        continue;
      }
      if (old) this.#tellChanged(old, row);
      else this.#tellNew(row);
      changes.push({
        part_id: row.partId,
        number: row.number,
        title: row.title,
        price: row.price,
        currency: row.currency,
        cost: row.cost,
        core: row.core,
        gtin: row.gtin,
        has_new_words: row.title !== '' && old?.title !== row.title,
      });
    }
    return changes;
  }

  #tellNew(row: ListRow): void {
    this.#counts.new += 1;
    if (this.#shown.added.length >= mostShown) return;
    const { number, title, price, currency } = row;
    this.#shown.added.push({ partNumber: number, title, price, currency });
  }

  #tellChanged(old: PresentPrice, row: ListRow): void {
    this.#counts.changed += 1;
    if (this.#shown.changed.length >= mostShown) return;
    this.#shown.changed.push({
      partNumber: row.number,
      from: `${old.price}${old.currency === row.currency ? '' : ` ${old.currency}`}`,
      to: row.price,
      currency: row.currency,
    });
  }

  async #finish(): Promise<ImportReport> {
    const { store } = this.#office;
    const counts = { ...this.#counts, rejected: this.#rejects.rejected, noted: this.#rejects.noted };
    const mapping = mappingFor(this.#headings, this.#places ?? {}) as ListMapping;
    const generation = this.#generation;
    if (generation !== null)
      await store.write((db) => showImport(db, generation, JSON.stringify(counts), JSON.stringify(mapping)));
    return {
      dryRun: this.#input.dryRun,
      counts,
      encoding: this.#source.form.encoding,
      delimiter: this.#source.form.delimiter,
      decimalSign: this.#sign ?? '.',
      headingsRow: this.#headingsRow,
      mapping,
      ...this.#shown,
      ...this.#rejects.shown,
    };
  }

  /** Marked first, so that nothing of it can ever be seen; then taken away in stretches. */
  async #clear(generation: number): Promise<void> {
    const { store } = this.#office;
    await store.write((db) => giveUpImport(db, generation));
    let upTo = this.#book.top;
    while (upTo > 0) {
      const from = upTo;
      upTo = await inBulkTransaction(store.connection, () =>
        this.#book.clear(generation, from, clearedAtOnce),
      );
      await new Promise((resolve) => setImmediate(resolve));
    }
  }
}

const isSame = (old: PresentPrice, row: ListRow): boolean =>
  Number(old.price) === Number(row.price) &&
  old.currency === row.currency &&
  old.title === row.title &&
  old.cost === row.cost &&
  old.core === row.core &&
  old.gtin === row.gtin;
