import {
  type DecimalSign,
  findColumns,
  findDecimalSign,
  type ListForm,
  type ListRecord,
  type ListRow,
  type Mapping,
  mostLinesBefore,
  noColumns,
  type Places,
  readRecords,
  readRow,
  rejectsText,
} from '../parts/index.ts';
import { Problem } from '../problem.ts';
import {
  addRejects,
  beginImport,
  dropUpload,
  filePieces,
  fileSize,
  findSupplier,
  giveUpImport,
  keepSupplier,
  leftOver,
  listSuppliers,
  PriceBook,
  readSpreadsheet,
  showImport,
  startRejects,
  uploadedFile,
} from '../store/index.ts';
import type { ImportReport, ListMapping, ParsedInputOf } from './contract.ts';
import type { Desk, Office } from './desk.ts';
import type { Group } from './group.ts';
import { readShopSettings } from './settings.ts';
import type { Worker } from './works.ts';

/** Rows of one short transaction: saving a job waits no longer than for one of them. */
const block = 1000;
const mostShown = 50;

export const priceLists = {
  'parts.importPrices': async (desk, input) => startImport(desk, input),
  'parts.suppliers': async (desk) => ({
    suppliers: (await listSuppliers(desk.db)).map((row) => ({
      supplierId: row.id,
      name: row.name,
      mapping: row.mapping === null ? null : (JSON.parse(row.mapping) as ListMapping),
    })),
  }),
} satisfies Pick<Group<'parts.'>, 'parts.importPrices' | 'parts.suppliers'>;

/** Suppliers whose list is being read at this moment, per open shop. */
const busy = new WeakMap<Office, Set<string>>();

export const slugOf = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 80);

async function startImport(
  desk: Desk,
  input: ParsedInputOf<'parts.importPrices'>,
): Promise<{ workId: string }> {
  const given = [input.path, input.text, input.uploadId].filter((one) => one !== undefined);
  if (given.length !== 1)
    throw new Problem('bad-input', 'Give one of path, text and uploadId.', { field: 'path' });
  if (input.path !== undefined) fileSize(input.path);
  if (input.uploadId !== undefined) uploadedFile(desk.options.dataFolder, input.uploadId);
  const supplierId = slugOf(input.supplier);
  if (supplierId === '')
    throw new Problem('bad-input', 'supplier: a name with letters or digits was expected.', {
      field: 'supplier',
    });
  const running = busy.get(desk.office) ?? new Set();
  busy.set(desk.office, running);
  if (running.has(supplierId))
    throw new Problem(
      'not-allowed-now',
      `A list of ${input.supplier} is being read already; wait for it or cancel it.`,
      {
        field: 'supplier',
      },
    );
  running.add(supplierId);
  const workId = desk.newId();
  desk.works.start(workId, `Price list of ${input.supplier}`, async (worker) => {
    try {
      return await new PriceImport(desk.office, worker, input, supplierId).run();
    } finally {
      running.delete(supplierId);
    }
  });
  return { workId };
}

async function* textPieces(text: string): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder();
  const size = 64 * 1024;
  for (let from = 0; from < text.length; from += size)
    yield encoder.encode(text.slice(from, from + size).toWellFormed());
}

export async function* sheetRecords(path: string): AsyncGenerator<ListRecord[]> {
  const rows = await readSpreadsheet(path);
  for (let from = 0; from < rows.length; from += block)
    yield rows
      .slice(from, from + block)
      .map((fields, place) => ({ row: from + place + 1, fields, text: fields.join(';'), problem: null }));
}

/** One reading of one list, from the first piece to the commit that shows it. */
class PriceImport {
  readonly #office: Office;
  readonly #worker: Worker;
  readonly #input: ParsedInputOf<'parts.importPrices'>;
  readonly #supplierId: string;
  readonly #counts = { rows: 0, new: 0, changed: 0, unchanged: 0, rejected: 0, noted: 0 };
  readonly #report: Pick<ImportReport, 'changed' | 'added' | 'rejected' | 'notes'> = {
    notes: [],
    changed: [],
    added: [],
    rejected: [],
  };
  readonly #form: ListForm = { encoding: 'utf-8', delimiter: ',' };
  /** Row on which each number stood first. */
  readonly #rowOf = new Map<string, number>();
  #rejects: { record: ListRecord; why: string }[] = [];
  #rejectsFile: string | null = null;
  #headings: readonly string[] = [];
  #headingsRow = 0;
  #places: Places | null = null;
  #sign: DecimalSign | null = null;
  #waiting: ListRecord[] = [];
  #generation: number | null = null;
  #currency = '';
  #book: PriceBook;

  constructor(
    office: Office,
    worker: Worker,
    input: ParsedInputOf<'parts.importPrices'>,
    supplierId: string,
  ) {
    this.#office = office;
    this.#worker = worker;
    this.#input = input;
    this.#supplierId = supplierId;
    this.#book = new PriceBook(office.store.connection, supplierId);
  }

  async run(): Promise<ImportReport> {
    const { text, uploadId, supplier, dryRun } = this.#input;
    const { store, options } = this.#office;
    const uploaded = uploadId === undefined ? null : uploadedFile(options.dataFolder, uploadId);
    const path = uploaded?.path ?? this.#input.path;
    const name = uploaded?.name ?? path ?? 'typed text';
    this.#currency = (await readShopSettings(store.db)).currency;
    await this.#clearLeftOver();
    const known = await findSupplier(store.db, this.#supplierId);
    const remembered = known?.mapping ? (JSON.parse(known.mapping) as Mapping) : null;
    if (!dryRun) {
      const { ms, offset } = this.#office.options.clock();
      this.#generation = await store.write(async (db) => {
        await keepSupplier(db, this.#supplierId, supplier);
        return beginImport(db, { supplierId: this.#supplierId, file: name, ms, offset });
      });
    }
    try {
      const size = path === undefined ? (text ?? '').length : fileSize(path);
      let read = 0;
      const counting = async function* (pieces: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
        for await (const piece of pieces) {
          read += piece.length;
          yield piece;
        }
      };
      const records =
        path !== undefined && /\.xlsx$/i.test(name)
          ? sheetRecords(path)
          : readRecords(counting(path === undefined ? textPieces(text ?? '') : filePieces(path)), this.#form);
      for await (const some of records) {
        await this.#take(some, remembered, false);
        this.#worker.tell(size === 0 ? 0 : (0.98 * read) / size, `${this.#counts.rows} rows`);
        await this.#worker.breathe();
      }
      await this.#take([], remembered, true);
      const report = await this.#finish();
      if (uploadId !== undefined && !dryRun) dropUpload(options.dataFolder, uploadId);
      return report;
    } catch (error) {
      await this.#giveUp();
      throw error;
    }
  }

  /** Reads headings from the first lines, then the decimal sign from the first prices, then everything. */
  async #take(records: readonly ListRecord[], remembered: Mapping | null, isEnd: boolean): Promise<void> {
    this.#waiting.push(
      ...records.filter((record) => record.problem !== null || record.fields.some((field) => field !== '')),
    );
    if (!this.#places) {
      if (!isEnd && this.#waiting.length < mostLinesBefore) return;
      this.#findHeadings(remembered);
    }
    const places = this.#places as Places | null;
    if (!places) return;
    if (this.#sign === null) {
      if (!isEnd && this.#waiting.length < 200) return;
      const prices = this.#waiting.slice(0, 2000).map((record) => record.fields[places.price ?? 0] ?? '');
      this.#sign = this.#input.decimalSign ?? findDecimalSign(prices, this.#form.delimiter);
    }
    while (this.#waiting.length >= block || (isEnd && this.#waiting.length > 0)) {
      await this.#keep(this.#waiting.splice(0, block), places, this.#sign);
      await this.#worker.breathe();
    }
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
        this.#waiting.splice(0, place + 1);
        return;
      }
    throw noColumns(
      first.map((record) => record.fields),
      tries[0] ?? null,
    );
  }

  async #keep(records: readonly ListRecord[], places: Places, sign: DecimalSign): Promise<void> {
    const rows: ListRow[] = [];
    for (const record of records) {
      this.#counts.rows += 1;
      const read = readRow(record, places, sign, this.#currency);
      if (!read.ok) {
        this.#reject(record, read.why);
        continue;
      }
      const before = this.#rowOf.get(read.row.partId);
      if (before !== undefined) {
        this.#reject(record, `the number ${read.row.number} stands in row ${before} already`);
        continue;
      }
      this.#rowOf.set(read.row.partId, record.row);
      rows.push(read.row);
    }
    const { store } = this.#office;
    const generation = this.#generation;
    if (generation === null) this.#changesAmong(rows);
    else
      await store.write(async () => {
        const changes = this.#changesAmong(rows);
        this.#book.add(
          generation,
          changes.map(({ partId, ...row }) => ({ part_id: partId, ...row })),
        );
      });
    this.#writeRejects();
  }

  /** Rows that are new or say something new. */
  #changesAmong(rows: readonly ListRow[]): ListRow[] {
    return rows.filter((row) => {
      const old = this.#book.present(row.partId);
      if (!old) {
        this.#counts.new += 1;
        if (this.#report.added.length < mostShown)
          this.#report.added.push({
            partNumber: row.number,
            title: row.title,
            price: row.price,
            currency: row.currency,
          });
        return true;
      }
      const samePrice = Number(old.price) === Number(row.price) && old.currency === row.currency;
      const same =
        samePrice &&
        old.title === row.title &&
        old.cost === row.cost &&
        old.core === row.core &&
        old.gtin === row.gtin;
      if (same) {
        this.#counts.unchanged += 1;
        return false;
      }
      this.#counts.changed += 1;
      if (this.#report.changed.length < mostShown)
        this.#report.changed.push({
          partNumber: row.number,
          from: `${old.price}${old.currency === row.currency ? '' : ` ${old.currency}`}`,
          to: row.price,
          currency: row.currency,
        });
      return true;
    });
  }

  #reject(record: ListRecord, why: string): void {
    this.#counts.rejected += 1;
    this.#rejects.push({ record, why });
    if (this.#report.rejected.length < mostShown)
      this.#report.rejected.push({ row: record.row, why, text: record.text.slice(0, 300) });
  }

  #writeRejects(): void {
    if (this.#rejects.length === 0) return;
    const { options } = this.#office;
    const width = this.#headings.length;
    if (this.#rejectsFile === null) {
      const headings = rejectsText(
        [{ record: { row: 0, fields: this.#headings, text: '', problem: null }, why: 'reason' }],
        width,
      ).replace(/,0,reason\n$/, ',row,reason\n');
      const name = `${this.#supplierId}-${this.#input.dryRun ? 'dry-run-' : ''}${options.clock().ms}.csv`;
      this.#rejectsFile = startRejects(options.dataFolder, name, headings);
    }
    addRejects(this.#rejectsFile, rejectsText(this.#rejects, width));
    this.#rejects = [];
  }

  async #finish(): Promise<ImportReport> {
    const { store } = this.#office;
    const mapping = Object.fromEntries(
      Object.entries(this.#places ?? {}).map(([column, place]) => [column, this.#headings[place] ?? '']),
    ) as ListMapping;
    const generation = this.#generation;
    if (generation !== null)
      await store.write((db) =>
        showImport(db, generation, JSON.stringify(this.#counts), JSON.stringify(mapping)),
      );
    return {
      dryRun: this.#input.dryRun,
      counts: this.#counts,
      encoding: this.#form.encoding,
      delimiter: this.#form.delimiter,
      decimalSign: this.#sign ?? '.',
      headingsRow: this.#headingsRow,
      mapping,
      ...this.#report,
      rejectsFile: this.#rejectsFile,
      rejectsName: this.#rejectsFile?.split(/[\\/]/).at(-1) ?? null,
    };
  }

  async #clearLeftOver(): Promise<void> {
    for (const { generation } of await leftOver(this.#office.store.db, this.#supplierId))
      await this.#clear(generation);
  }

  /** Marked first, so that nothing of it can ever be seen; then taken away in blocks. */
  async #clear(generation: number): Promise<void> {
    const { store } = this.#office;
    await store.write((db) => giveUpImport(db, generation));
    for (;;) {
      const gone = await store.write(async () => this.#book.clear(generation, block));
      if (gone === 0) return;
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
  }

  async #giveUp(): Promise<void> {
    if (this.#generation !== null) await this.#clear(this.#generation);
  }
}
