import { type Model, type TallyRow, unlistedCause } from '../book/index.ts';
import type { BenchWork, DemoJob, DemoShop } from '../demo/index.ts';
import { addToTally, type ClosedConcern, decideComeback, tallyRowsOf } from '../ledger/index.ts';
import { type ConcernRow, foldAll, type JobTableRow } from '../store/index.ts';
import type { CauseId, ConcernId, JobId, ModelId, SymptomId, VehicleId } from '../terms.ts';

/** Turns the invented jobs into rows, and keeps the running tally of what was closed before each. */
export class DemoLedger {
  readonly #shop: DemoShop;
  readonly #vehicleIds: readonly string[];
  readonly #offset: number;
  readonly #models: ReadonlyMap<ModelId, Model>;
  readonly #partNumber: BenchWork['partNumber'];
  readonly #jobIds: string[];
  readonly #concernIds: string[];
  readonly #advisoryIds: string[];
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
    partNumber: BenchWork['partNumber'],
  ) {
    this.#shop = shop;
    this.#vehicleIds = vehicleIds;
    this.#offset = offset;
    this.#models = models;
    this.#partNumber = partNumber;
    this.#jobIds = shop.jobs.map(() => newId());
    this.#concernIds = shop.jobs.map(() => newId());
    this.#advisoryIds = shop.jobs.map(() => newId());
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

  jobId(place: number): string {
    return this.#jobIds[place] as string;
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
          part_number: this.#partNumber(this.#job(place).vehicle, part.kind, part.supplier),
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
            id: this.#advisoryIds[place] as string,
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
