import type { Book, Model, Symptom } from '../book/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  type AdvisoryRow,
  type ConcernRow,
  type CustomerRow,
  causesOf,
  concernsOfJobs,
  jobsOfVehicle,
  type VehicleRow,
} from '../store/index.ts';
import type { CauseId, ModelId, SymptomId } from '../terms.ts';
import type { AdvisoryView, CustomerView, ModelView, VehicleView, VisitView } from './contract.ts';
import type { Desk } from './desk.ts';
import { toIso } from './instants.ts';

/** Rows of the store as the contract shows them. */

export const modelTitle = (model: Model): string =>
  model.name.toLowerCase().startsWith(model.maker.toLowerCase())
    ? model.name
    : `${model.maker} ${model.name}`;

export function modelView(book: Book, model: Model): ModelView {
  const family = book.families.get(model.familyId);
  return {
    modelId: model.id,
    maker: model.maker,
    name: model.name,
    title: modelTitle(model),
    familyId: model.familyId,
    family: family?.title ?? model.familyId,
    displacement_cm3: family?.displacement_cm3 ?? 0,
    years: { from: model.years.from, to: model.years.to },
    traits: { ...model.traits } as Record<string, string>,
    circuitIds: [...model.circuitIds],
  };
}

export const customerView = (row: CustomerRow): CustomerView => ({
  customerId: row.id,
  version: row.version,
  name: row.name,
  phone: row.phone,
  email: row.email,
  note: row.note,
});

export function titleOfModel(book: Book, modelId: string | null, modelWords: string | null): string {
  const model = modelId === null ? undefined : book.models.get(modelId as ModelId);
  return model ? modelTitle(model) : (modelWords ?? 'Model not known');
}

export const vehicleView = (book: Book, row: VehicleRow, customer: CustomerView | null): VehicleView => ({
  vehicleId: row.id,
  version: row.version,
  plate: row.plate,
  frame: row.frame,
  modelId: row.model_id,
  modelTitle: titleOfModel(book, row.model_id, row.model_words),
  year: row.year,
  color: row.color,
  mileage_km: row.mileage_km,
  customer,
});

export const advisoryView = (row: AdvisoryRow & { job_number: number }): AdvisoryView => ({
  advisoryId: row.id,
  jobId: row.job_id,
  jobNumber: row.job_number,
  words: row.words,
  urgency: row.urgency,
  doNotRide: row.do_not_ride === 1,
  state: row.state,
  madeAt: toIso(row.made_ms, row.made_offset),
});

const outcomeWords = (concern: ConcernRow): string =>
  concern.state === 'open' ? 'open' : (concern.outcome ?? 'closed');

/** Visits of a vehicle, newest first, without the one that is looked at. */
export async function visitsOf(desk: Desk, vehicleId: string, exceptJob?: string): Promise<VisitView[]> {
  const { book } = await desk.book();
  const jobs = (await jobsOfVehicle(desk.db, vehicleId, 30)).filter((job) => job.id !== exceptJob);
  const concerns = await concernsOfJobs(
    desk.db,
    jobs.map((job) => job.id),
  );
  const causes = new Map<string, string[]>();
  for (const { id, state, outcome } of concerns) {
    if (state !== 'closed' || outcome !== 'proven') continue;
    const rows = await causesOf(desk.db, id);
    causes.set(
      id,
      rows.map((row) => (row.cause_id === null ? (row.words ?? '') : causeTitle(book, row.cause_id))),
    );
  }
  return jobs.map((job) => ({
    jobId: job.id,
    number: job.number,
    openedAt: toIso(job.opened_ms, job.opened_offset),
    status: job.status,
    mileage_km: job.mileage_km,
    concerns: concerns
      .filter((concern) => concern.job_id === job.id)
      .map((concern) => ({
        words: concern.words,
        symptom: concern.symptom_id ? symptomTitle(book, concern.symptom_id) : null,
        outcome: outcomeWords(concern),
        causes: causes.get(concern.id) ?? [],
        comeback: concern.comeback_of !== null && concern.comeback_state !== 'no-comeback',
      })),
  }));
}

export const symptomTitle = (book: Book, symptomId: string): string =>
  book.symptoms.get(symptomId as SymptomId)?.title ?? symptomId;

export const causeTitle = (book: Book, causeId: string): string =>
  book.causes.get(causeId as CauseId)?.title ?? causeId;

export function symptomOr404(book: Book, symptomId: string, field = 'symptomId'): Symptom {
  const symptom = book.symptoms.get(symptomId as SymptomId);
  if (!symptom)
    throw new Problem(
      'not-found',
      `The book has no symptom ${quoted(symptomId)}; symptoms.list names them.`,
      {
        field,
        id: symptomId,
      },
    );
  return symptom;
}
