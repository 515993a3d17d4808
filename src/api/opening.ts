import { acceptReading, type ReadingInput } from '../diagnosis/index.ts';
import { Problem } from '../problem.ts';
import {
  type ConcernRow,
  foldAll,
  insertConcern,
  insertJob,
  insertReading,
  type JobCard,
  nextJobNumber,
  updateVehicle,
  wasMade,
} from '../store/index.ts';
import type { ModelId } from '../terms.ts';
import { markComeback } from './comebacks.ts';
import type { JobView, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import { fromIso } from './instants.ts';
import { cardOr404 } from './job-card.ts';
import { jobView } from './job-views.ts';
import { saveNewCustomer, saveNewVehicle, vehicleOr404 } from './people.ts';
import { readingWords } from './reading-words.ts';
import { keepWhatIsShown } from './shown.ts';
import { symptomOr404 } from './views.ts';

/** Opening a card, and what is put on it: vehicle, concerns, readings. */

export async function openJob(desk: Desk, input: ParsedInputOf<'jobs.open'>): Promise<JobView> {
  if (input.jobId && (await wasMade(desk.db, input.jobId, 'job', input)))
    return jobView(desk, await cardOr404(desk, { id: input.jobId }));
  const { book } = await desk.book();
  input.concerns.forEach((concern, index) => {
    if (concern.symptomId !== undefined)
      symptomOr404(book, concern.symptomId, `concerns[${index}].symptomId`);
  });
  const vehicleId = await vehicleOf(desk, input);
  if (input.mileage_km !== undefined) await keepMileage(desk, vehicleId, input.mileage_km);
  const now = desk.now();
  const promise = input.promiseAt ? fromIso(input.promiseAt) : null;
  const jobId = input.jobId ?? desk.newId();
  const number = await nextJobNumber(desk.db);
  await insertJob(desk.db, {
    id: jobId,
    number,
    version: 1,
    status: input.status ?? 'checked-in',
    vehicle_id: vehicleId,
    opened_ms: now.ms,
    opened_offset: now.offset,
    closed_ms: null,
    closed_offset: null,
    promise_ms: promise?.ms ?? null,
    promise_offset: promise?.offset ?? null,
    mileage_km: input.mileage_km ?? null,
    key_tag: input.keyTag || null,
    technician: input.technician || null,
    note: input.note || null,
    limit_amount: input.consent?.diagnosisUpTo?.amount ?? null,
    limit_currency: input.consent?.diagnosisUpTo?.currency ?? null,
    test_ride: Number(input.consent?.testRide ?? false),
    old_parts: Number(input.consent?.oldPartsBack ?? false),
    folded: foldAll(
      [String(number), input.keyTag, input.technician, ...input.concerns.map((one) => one.words)],
      [],
    ),
  });
  const empty = await cardOr404(desk, { id: jobId });
  for (const [index, concern] of input.concerns.entries()) await addConcern(desk, empty, concern, index + 1);
  if (input.readings && input.readings.length > 0) {
    const card = await cardOr404(desk, { id: jobId });
    const first = card.concerns[0] as ConcernRow;
    for (const [index, reading] of input.readings.entries())
      await recordReading(desk, card, first, reading, undefined, `readings[${index}]`);
    await keepWhatIsShown(desk, await cardOr404(desk, { id: jobId }), first, 'reading');
  }
  return jobView(desk, await cardOr404(desk, { id: jobId }));
}

/** The vehicle of a new card: a known one, a new one, or none; a new customer is made with it. */
async function vehicleOf(desk: Desk, input: ParsedInputOf<'jobs.open'>): Promise<string | null> {
  if (input.vehicleId && input.vehicle)
    throw new Problem('bad-input', 'vehicle: give either vehicleId or a new vehicle, not both.', {
      field: 'vehicle',
    });
  if (input.vehicleId) {
    const known = await vehicleOr404(desk, input.vehicleId);
    if (known.customer_id === null && (input.customer || input.customerId)) {
      const customerId = input.customer
        ? (await saveNewCustomer(desk, input.customer)).id
        : (input.customerId ?? null);
      await updateVehicle(
        desk.db,
        { ...known, customer_id: customerId, version: known.version + 1 },
        known.version,
      );
    }
    return known.id;
  }
  if (!input.vehicle) {
    if (input.customer || input.customerId)
      throw new Problem('bad-input', 'vehicle: a customer needs a vehicle on the card.', {
        field: 'vehicle',
      });
    return null;
  }
  const customerId = input.customer
    ? (await saveNewCustomer(desk, input.customer)).id
    : (input.customerId ?? null);
  return (await saveNewVehicle(desk, input.vehicle, customerId)).vehicleId;
}

/** The vehicle remembers the highest mileage read on it. */
export async function keepMileage(desk: Desk, vehicleId: string | null, mileage_km: number): Promise<void> {
  if (vehicleId === null) return;
  const vehicle = await vehicleOr404(desk, vehicleId);
  if ((vehicle.mileage_km ?? -1) >= mileage_km) return;
  await updateVehicle(desk.db, { ...vehicle, mileage_km, version: vehicle.version + 1 }, vehicle.version);
}

export async function addConcern(
  desk: Desk,
  card: JobCard,
  given: { concernId?: string | undefined; words: string; symptomId?: string | undefined },
  seq: number,
): Promise<void> {
  if (given.symptomId !== undefined) symptomOr404((await desk.book()).book, given.symptomId);
  const row: ConcernRow = {
    id: given.concernId ?? desk.newId(),
    version: 1,
    job_id: card.job.id,
    seq,
    words: given.words,
    symptom_id: given.symptomId ?? null,
    state: 'open',
    outcome: null,
    proof: null,
    retest: null,
    minutes: null,
    planned_minutes: null,
    close_note: null,
    closed_ms: null,
    closed_offset: null,
    model_id: null,
    family_id: null,
    counted: 0,
    comeback_of: null,
    comeback_days: null,
    comeback_km: null,
    comeback_state: null,
    comeback_class: null,
    comeback_why: null,
  };
  await insertConcern(desk.db, row);
  await markComeback(desk, card, row);
  await keepWhatIsShown(desk, card, row, 'opened');
}

export async function recordReading(
  desk: Desk,
  card: JobCard,
  concern: ConcernRow,
  reading: ReadingInput,
  readingId: string | undefined,
  field = 'reading',
): Promise<void> {
  const { book } = await desk.book();
  const vehicle = card.job.vehicle_id === null ? null : await vehicleOr404(desk, card.job.vehicle_id);
  const model = vehicle?.model_id ? book.models.get(vehicle.model_id as ModelId) : undefined;
  const accepted = acceptReading(reading, book, model?.traits, field);
  const words = readingWords(book, accepted);
  const now = desk.now();
  await insertReading(desk.db, {
    id: readingId ?? desk.newId(),
    concern_id: concern.id,
    at_ms: now.ms,
    at_offset: now.offset,
    check_id: accepted.kind === 'circuit' ? null : accepted.checkId,
    title: words.title,
    shows: words.shows,
    outcome: words.outcome,
    skipped: null,
    reading: JSON.stringify(reading),
    undone_ms: null,
  });
}
