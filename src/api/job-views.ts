import type { Book } from '../book/index.ts';
import {
  type ConcernPartRow,
  type ConcernRow,
  findCustomer,
  findVehicle,
  type JobCard,
  jobsOfConcerns,
  openAdvisoriesOf,
  type ReadingRow,
  type Tables,
} from '../store/index.ts';
import type { Closing, ConcernView, JobView, RecordedReading } from './contract.ts';
import type { Desk } from './desk.ts';
import { isoOrNull, toIso } from './instants.ts';
import { advisoryView, causeTitle, customerView, symptomTitle, vehicleView, visitsOf } from './views.ts';

/** A job card as the contract shows it, from its rows. */

export const readingView = (row: ReadingRow): RecordedReading => ({
  readingId: row.id,
  at: toIso(row.at_ms, row.at_offset),
  checkId: row.check_id,
  title: row.title,
  shows: row.shows,
  outcome: row.outcome,
  skipped: row.skipped,
  ...(row.reading === null
    ? {}
    : { reading: JSON.parse(row.reading) as NonNullable<RecordedReading['reading']> }),
});

function closingView(
  concern: ConcernRow,
  causes: readonly Tables['concern_causes'][],
  parts: readonly ConcernPartRow[],
): Closing | null {
  if (concern.outcome === null) return null;
  const rest = {
    ...(concern.minutes === null ? {} : { minutes: concern.minutes }),
    ...(concern.close_note === null ? {} : { note: concern.close_note }),
  };
  if (concern.outcome !== 'proven') return { kind: concern.outcome, ...rest };
  return {
    kind: 'proven',
    causes: causes.map((cause) =>
      cause.cause_id === null ? { words: cause.words ?? '' } : { causeId: cause.cause_id },
    ),
    proof: concern.proof ?? 'measured',
    ...(concern.retest === null ? {} : { retest: concern.retest }),
    ...rest,
    parts: parts.map((part) => ({
      description: part.description,
      quantity: part.quantity,
      ...(part.part_number === null ? {} : { partNumber: part.part_number }),
      ...(part.kind === null ? {} : { kind: part.kind }),
      ...(part.supplier === null ? {} : { supplier: part.supplier }),
      ...(part.for_cause === null ? {} : { forCause: part.for_cause }),
    })),
  };
}

interface EarlierJob {
  readonly concern_id: string;
  readonly job_id: string;
  readonly number: number;
}

function concernView(
  book: Book,
  card: JobCard,
  concern: ConcernRow,
  earlier: readonly EarlierJob[],
): ConcernView {
  const causes = card.causes.filter((cause) => cause.concern_id === concern.id);
  const first = earlier.find((job) => job.concern_id === concern.comeback_of);
  return {
    concernId: concern.id,
    version: concern.version,
    words: concern.words,
    symptomId: concern.symptom_id,
    symptom: concern.symptom_id === null ? null : symptomTitle(book, concern.symptom_id),
    state: concern.state,
    readings: card.readings
      .filter((reading) => reading.concern_id === concern.id && reading.undone_ms === null)
      .map(readingView),
    closing: closingView(
      concern,
      causes,
      card.parts.filter((part) => part.concern_id === concern.id),
    ),
    closedAt: isoOrNull(concern.closed_ms, concern.closed_offset),
    causes: causes.map((cause) =>
      cause.cause_id === null ? (cause.words ?? '') : causeTitle(book, cause.cause_id),
    ),
    comeback:
      first && concern.comeback_of !== null
        ? {
            ofConcernId: concern.comeback_of,
            ofJobId: first.job_id,
            ofJobNumber: first.number,
            daysBetween: concern.comeback_days ?? 0,
            km: concern.comeback_km,
            state: concern.comeback_state as NonNullable<ConcernView['comeback']>['state'],
            classified: concern.comeback_class as NonNullable<ConcernView['comeback']>['classified'],
            why: concern.comeback_why ?? '',
          }
        : null,
  };
}

export async function jobView(desk: Desk, card: JobCard): Promise<JobView> {
  const { book } = await desk.book();
  const { job } = card;
  const vehicleRow = job.vehicle_id === null ? undefined : await findVehicle(desk.db, job.vehicle_id);
  const customerRow = vehicleRow?.customer_id
    ? await findCustomer(desk.db, vehicleRow.customer_id)
    : undefined;
  const earlier = await jobsOfConcerns(
    desk.db,
    card.concerns.flatMap((concern) => (concern.comeback_of === null ? [] : [concern.comeback_of])),
  );
  const advisories = card.advisories.map((row) => advisoryView({ ...row, job_number: job.number }));
  const earlierAdvisories =
    job.vehicle_id === null
      ? []
      : (await openAdvisoriesOf(desk.db, job.vehicle_id))
          .filter((row) => row.job_id !== job.id)
          .map(advisoryView);
  return {
    jobId: job.id,
    number: job.number,
    version: job.version,
    status: job.status as JobView['status'],
    openedAt: toIso(job.opened_ms, job.opened_offset),
    closedAt: isoOrNull(job.closed_ms, job.closed_offset),
    promiseAt: isoOrNull(job.promise_ms, job.promise_offset),
    mileage_km: job.mileage_km,
    keyTag: job.key_tag,
    technician: job.technician,
    note: job.note,
    consent: {
      diagnosisUpTo:
        job.limit_amount === null || job.limit_currency === null
          ? null
          : { amount: job.limit_amount, currency: job.limit_currency },
      testRide: job.test_ride === 1,
      oldPartsBack: job.old_parts === 1,
    },
    vehicle: vehicleRow
      ? vehicleView(book, vehicleRow, customerRow ? customerView(customerRow) : null)
      : null,
    concerns: card.concerns.map((concern) => concernView(book, card, concern, earlier)),
    advisories,
    earlierAdvisories,
    approvals: card.approvals.map((row) => ({
      approvalId: row.id,
      at: toIso(row.at_ms, row.at_offset),
      who: row.who,
      how: row.how as JobView['approvals'][number]['how'],
      amount: { amount: row.amount, currency: row.currency },
      words: row.words,
    })),
    doNotRide: [...advisories, ...earlierAdvisories].some(
      (advisory) => advisory.doNotRide && advisory.state !== 'settled',
    ),
    visits: job.vehicle_id === null ? [] : await visitsOf(desk, job.vehicle_id, job.id),
  };
}
