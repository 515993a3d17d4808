import type { Model, TallyRow } from '../book/index.ts';
import { unlistedCause } from '../book/index.ts';
import { type DemoJob, type DemoShop, makeShop } from '../demo/index.ts';
import { causeShares } from '../diagnosis/index.ts';
import {
  addToTally,
  type ClosedConcern,
  decideComeback,
  rebuildClosed,
  rebuildTally,
  tallyRowsOf,
} from '../ledger/index.ts';
import {
  type ConcernRow,
  foldAll,
  insertMany,
  type JobTableRow,
  replaceTally,
  type Tables,
  writeSetting,
} from '../store/index.ts';
import type { CauseId, ConcernId, JobId, ModelId, SymptomId, VehicleId } from '../terms.ts';
import type { Office } from './desk.ts';
import { writeShopSettings } from './settings.ts';
import { closedTableRow, tallyTableRow } from './tally-keeping.ts';
import type { Worker } from './works.ts';

const block = 200;

/** Fills an empty shop with the invented one, in one transaction: all of it is there afterwards, or none. */
export async function loadDemoShop(
  office: Office,
  worker: Worker,
  order: { jobs: number; seed: number },
): Promise<{ jobs: number; vehicles: number }> {
  const now = office.options.clock();
  worker.tell(0.02, 'Drawing the shop');
  await worker.breathe();
  const { book } = await office.shelf.inUse(office.db);
  const shop = makeShop({ book, jobs: order.jobs, seed: order.seed, untilMs: now.ms });
  return office.store.write(async (db) => {
    const { connection } = office.store;
    const newId = office.options.newId;
    const customerIds = shop.customers.map(() => newId());
    const vehicleIds = shop.vehicles.map(() => newId());
    const base = { version: 1, made_ms: now.ms, made_offset: now.offset };
    insertMany(connection, 'customers', customerColumns, customerRows());
    insertMany(connection, 'vehicles', vehicleColumns, vehicleRows());

    function* customerRows(): Iterable<Tables['customers']> {
      for (const [place, { name, phone }] of shop.customers.entries())
        yield {
          ...base,
          id: customerIds[place] as string,
          name,
          phone,
          email: null,
          note: null,
          folded: foldAll([name], [phone]),
        };
    }
    function* vehicleRows(): Iterable<Tables['vehicles']> {
      for (const [place, vehicle] of shop.vehicles.entries()) {
        const model = book.models.get(vehicle.modelId as ModelId);
        yield {
          ...base,
          id: vehicleIds[place] as string,
          customer_id: customerIds[vehicle.customer] as string,
          plate: vehicle.plate,
          frame: null,
          model_id: vehicle.modelId,
          model_words: null,
          year: vehicle.year,
          color: vehicle.color,
          mileage_km: vehicle.mileage_km,
          folded: foldAll([vehicle.plate, model?.maker, model?.name], [vehicle.plate]),
        };
      }
    }

    const ledger = new DemoLedger(shop, vehicleIds, newId, now.offset, book.models);
    for (let from = 0; from < shop.jobs.length; from += block) {
      const rows = ledger.rows(from, Math.min(from + block, shop.jobs.length));
      insertMany(connection, 'jobs', jobColumns, rows.jobs);
      insertMany(connection, 'concerns', concernColumns, rows.concerns);
      insertMany(connection, 'concern_causes', ['concern_id', 'seq', 'cause_id', 'words'], rows.causes);
      insertMany(connection, 'concern_parts', partColumns, rows.parts);
      insertMany(connection, 'advisories', advisoryColumns, rows.advisories);
      insertMany(connection, 'shown', shownColumns, shownRows(from, from + block));
      worker.tell(0.05 + (0.9 * from) / shop.jobs.length, `${Math.min(from + block, shop.jobs.length)} jobs`);
      await worker.breathe();
    }

    /** What the ranking showed when each job came in, from the jobs closed before it. */
    function* shownRows(from: number, until: number): Iterable<Tables['shown']> {
      for (const place of Array.from({ length: until - from }, (_, k) => from + k)) {
        const job = shop.jobs[place];
        const symptom = job && book.symptoms.get(job.symptomId);
        if (!job || !symptom) continue;
        const model = book.models.get((shop.vehicles[job.vehicle]?.modelId ?? '') as ModelId) ?? null;
        const { causes, alphas } = causeShares(book, symptom, model, ledger.tallyBefore(place));
        const total = alphas.reduce((sum: number, alpha: number) => sum + alpha, 0);
        const shares = causes.map(
          (cause, k) => [cause.id, Number(((alphas[k] ?? 0) / total).toFixed(5))] as const,
        );
        yield {
          concern_id: ledger.concernId(place),
          seq: 1,
          moment: 'opened',
          at_ms: job.openedMs,
          book_version: book.version,
          ranking: JSON.stringify({
            causes: shares.toSorted((a, b) => b[1] - a[1]),
            unlisted: Number(((alphas[causes.length] ?? 0) / total).toFixed(5)),
            contradiction: false,
          }),
          plan: null,
        };
      }
    }

    const concerns = ledger.closed();
    await replaceTally(
      db,
      rebuildTally(concerns).map(tallyTableRow),
      rebuildClosed(concerns).map(closedTableRow),
    );
    await writeShopSettings(db, {
      shopName: 'Lantern Yard Scooters (invented)',
      address: '4 Lantern Yard, Invented Town',
      technicians: [...new Set(shop.jobs.map((job) => job.technician))],
    });
    await writeSetting(db, 'demo', JSON.stringify({ seed: order.seed, jobs: order.jobs }));
    worker.tell(0.99, 'Saving');
    return { jobs: shop.jobs.length, vehicles: shop.vehicles.length };
  });
}

/** Turns the invented jobs into rows, and keeps the running tally of what was closed before each. */
class DemoLedger {
  readonly #shop: DemoShop;
  readonly #vehicleIds: readonly string[];
  readonly #offset: number;
  readonly #models: ReadonlyMap<ModelId, Model>;
  readonly #jobIds: string[];
  readonly #concernIds: string[];
  readonly #takenBack = new Set<number>();
  readonly #bySymptom = new Map<string, TallyRow[]>();
  /** Places in the order of their closing. */
  readonly #byClosing: number[];
  #counted = 0;

  constructor(
    shop: DemoShop,
    vehicleIds: readonly string[],
    newId: () => string,
    offset: number,
    models: ReadonlyMap<ModelId, Model>,
  ) {
    this.#shop = shop;
    this.#vehicleIds = vehicleIds;
    this.#offset = offset;
    this.#models = models;
    this.#jobIds = shop.jobs.map(() => newId());
    this.#concernIds = shop.jobs.map(() => newId());
    this.#byClosing = shop.jobs
      .map((_, place) => place)
      .filter((place) => this.#job(place).closedMs !== null)
      .sort((a, b) => (this.#job(a).closedMs ?? 0) - (this.#job(b).closedMs ?? 0));
    for (const [place, job] of shop.jobs.entries())
      if (job.comebackOf !== null && this.#decision(place)?.state === 'diagnosis-taken-back')
        this.#takenBack.add(job.comebackOf);
  }

  #job(place: number): DemoJob {
    return this.#shop.jobs[place] as DemoJob;
  }

  concernId(place: number): string {
    return this.#concernIds[place] as string;
  }

  #concern(place: number, takenBack = this.#takenBack.has(place)): ClosedConcern | null {
    const job = this.#job(place);
    if (job.closedMs === null || job.outcome === null) return null;
    const vehicle = this.#shop.vehicles[job.vehicle];
    const model = this.#models.get((vehicle?.modelId ?? '') as ModelId);
    return {
      concernId: this.concernId(place) as ConcernId,
      jobId: this.#jobIds[place] as JobId,
      vehicleId: this.#vehicleIds[job.vehicle] as VehicleId,
      modelId: model?.id ?? null,
      familyId: model?.familyId ?? null,
      symptomId: job.symptomId as SymptomId,
      closedAt: job.closedMs,
      mileage_km: job.mileage_km,
      outcome: job.outcome,
      causes: job.causes.map((cause) => (cause.causeId ?? unlistedCause) as CauseId),
      proof: job.proof,
      takenBack,
    };
  }

  #decision(place: number) {
    const job = this.#job(place);
    const first = job.comebackOf === null ? null : this.#concern(job.comebackOf, false);
    if (!first) return null;
    return decideComeback(
      first,
      this.#concern(place, false),
      null,
      this.#job(job.comebackOf as number).parts.length > 0,
    );
  }

  closed(): ClosedConcern[] {
    return this.#byClosing.map((place) => this.#concern(place)).filter((concern) => concern !== null);
  }

  /** Rows of the symptom of a job from all concerns closed before it was opened. */
  tallyBefore(place: number): readonly TallyRow[] {
    const { openedMs, symptomId } = this.#job(place);
    for (; this.#counted < this.#byClosing.length; this.#counted += 1) {
      const next = this.#byClosing[this.#counted] as number;
      if ((this.#job(next).closedMs ?? 0) >= openedMs) break;
      const concern = this.#concern(next, false);
      if (!concern?.symptomId) continue;
      const rows = this.#bySymptom.get(concern.symptomId) ?? [];
      this.#bySymptom.set(concern.symptomId, addToTally(rows, tallyRowsOf(concern)));
    }
    return this.#bySymptom.get(symptomId) ?? [];
  }

  rows(from: number, until: number) {
    const places = Array.from({ length: until - from }, (_, k) => from + k);
    return {
      jobs: places.map((place) => this.#jobRow(place)),
      concerns: places.map((place) => this.#concernRow(place)),
      causes: places.flatMap((place) =>
        this.#job(place).causes.map((cause, seq) => ({
          concern_id: this.concernId(place),
          seq,
          cause_id: cause.causeId,
          words: cause.words,
        })),
      ),
      parts: places.flatMap((place) =>
        this.#job(place).parts.map((part, seq) => ({
          concern_id: this.concernId(place),
          seq,
          description: part.description,
          part_number: null,
          kind: part.kind,
          supplier: part.supplier,
          quantity: part.quantity,
          for_cause: 0,
        })),
      ),
      advisories: places.flatMap((place) => {
        const { advisory, vehicle, openedMs } = this.#job(place);
        if (!advisory) return [];
        const isOld =
          this.#job(place).openedMs < this.#job(this.#shop.jobs.length - 1).openedMs - 120 * 86_400_000;
        return [
          {
            id: `${this.concernId(place)}-advisory`,
            job_id: this.#jobIds[place] as string,
            vehicle_id: this.#vehicleIds[vehicle] as string,
            words: advisory.words,
            urgency: advisory.urgency,
            do_not_ride: 0,
            state: isOld ? ('settled' as const) : ('open' as const),
            made_ms: openedMs,
            made_offset: this.#offset,
          },
        ];
      }),
    };
  }

  #jobRow(place: number): JobTableRow {
    const job = this.#job(place);
    return {
      id: this.#jobIds[place] as string,
      number: 1001 + place,
      version: 1,
      status: job.status,
      vehicle_id: this.#vehicleIds[job.vehicle] as string,
      opened_ms: job.openedMs,
      opened_offset: this.#offset,
      closed_ms: job.closedMs,
      closed_offset: job.closedMs === null ? null : this.#offset,
      promise_ms: job.promiseMs,
      promise_offset: job.promiseMs === null ? null : this.#offset,
      mileage_km: job.mileage_km,
      key_tag: job.closedMs === null ? String(1 + (place % 40)) : null,
      technician: job.technician,
      note: null,
      limit_amount: null,
      limit_currency: null,
      test_ride: 1,
      old_parts: 0,
      folded: foldAll([String(1001 + place), job.technician, job.words], []),
    };
  }

  #concernRow(place: number): ConcernRow {
    const job = this.#job(place);
    const closed = this.#concern(place);
    const decision = this.#decision(place);
    const first = job.comebackOf === null ? null : this.#job(job.comebackOf);
    return {
      id: this.concernId(place),
      version: 1,
      job_id: this.#jobIds[place] as string,
      seq: 1,
      words: job.words,
      symptom_id: job.symptomId,
      state: closed ? 'closed' : 'open',
      outcome: job.outcome,
      proof: job.proof,
      retest: job.proof === 'retested' ? 'the complaint, three times, engine warm' : null,
      minutes: job.minutes,
      planned_minutes: job.plannedMinutes,
      close_note: null,
      closed_ms: job.closedMs,
      closed_offset: job.closedMs === null ? null : this.#offset,
      model_id: closed?.modelId ?? null,
      family_id: closed?.familyId ?? null,
      counted: closed ? 1 : 0,
      comeback_of: job.comebackOf === null ? null : this.concernId(job.comebackOf),
      comeback_days: first
        ? Math.floor((job.openedMs - (first.closedMs ?? job.openedMs)) / 86_400_000)
        : null,
      comeback_km: first ? Math.max(0, job.mileage_km - first.mileage_km) : null,
      comeback_state: decision?.state ?? null,
      comeback_class: null,
      comeback_why: decision?.why ?? null,
    };
  }
}

const customerColumns = [
  'id',
  'version',
  'name',
  'phone',
  'email',
  'note',
  'folded',
  'made_ms',
  'made_offset',
] as const;
const vehicleColumns = [
  'id',
  'version',
  'customer_id',
  'plate',
  'frame',
  'model_id',
  'model_words',
  'year',
  'color',
  'mileage_km',
  'folded',
  'made_ms',
  'made_offset',
] as const;
const jobColumns = [
  'id',
  'number',
  'version',
  'status',
  'vehicle_id',
  'opened_ms',
  'opened_offset',
  'closed_ms',
  'closed_offset',
  'promise_ms',
  'promise_offset',
  'mileage_km',
  'key_tag',
  'technician',
  'note',
  'limit_amount',
  'limit_currency',
  'test_ride',
  'old_parts',
  'folded',
] as const;
const concernColumns = [
  'id',
  'version',
  'job_id',
  'seq',
  'words',
  'symptom_id',
  'state',
  'outcome',
  'proof',
  'retest',
  'minutes',
  'planned_minutes',
  'close_note',
  'closed_ms',
  'closed_offset',
  'model_id',
  'family_id',
  'counted',
  'comeback_of',
  'comeback_days',
  'comeback_km',
  'comeback_state',
  'comeback_class',
  'comeback_why',
] as const;
const partColumns = [
  'concern_id',
  'seq',
  'description',
  'part_number',
  'kind',
  'supplier',
  'quantity',
  'for_cause',
] as const;
const advisoryColumns = [
  'id',
  'job_id',
  'vehicle_id',
  'words',
  'urgency',
  'do_not_ride',
  'state',
  'made_ms',
  'made_offset',
] as const;
const shownColumns = ['concern_id', 'seq', 'moment', 'at_ms', 'book_version', 'ranking', 'plan'] as const;
