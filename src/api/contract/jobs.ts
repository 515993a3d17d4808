import { z } from 'zod';
import {
  instant,
  limit,
  line,
  mileage_km,
  minutes,
  money,
  note,
  slug,
  uuid,
  version,
  words,
} from './basics.ts';
import { plan, ranking } from './diagnosis.ts';
import { advisory, newCustomer, newVehicle, urgency, vehicle, visit } from './people.ts';
import { procedure } from './procedure.ts';
import { reading } from './readings.ts';

export const jobStatuses = [
  'booked',
  'checked-in',
  'diagnosing',
  'awaiting-approval',
  'waiting-for-parts',
  'on-charge',
  'in-work',
  'final-check',
  'ready',
  'collected',
] as const;
export const jobStatus = z.enum(jobStatuses);

export const consent = z.strictObject({
  /** Diagnosis may cost up to this without asking again. */
  diagnosisUpTo: money.nullable(),
  testRide: z.boolean(),
  oldPartsBack: z.boolean(),
});

export const provenCause = z.union([
  z.strictObject({ causeId: slug }),
  /** A cause that the book lacks, in words. */
  z.strictObject({ words: line }),
]);

export const usedPart = z.strictObject({
  description: line,
  partNumber: z.string().trim().max(60).optional(),
  kind: slug.optional(),
  supplier: z.string().trim().max(80).optional(),
  quantity: z.int().min(1).max(1000),
  /** The cause of this concern that it was fitted for: index in `causes`. */
  forCause: z.int().min(0).max(20).optional(),
});

export const closing = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('proven'),
    causes: z.array(provenCause).min(1).max(8),
    proof: z.enum(['retested', 'replaced', 'measured']),
    /** Needed with `retested`: what was retested, how, how long. */
    retest: z.string().trim().max(1000).optional(),
    minutes: minutes.optional(),
    parts: z.array(usedPart).max(50).optional(),
    note: note.optional(),
  }),
  z.strictObject({
    kind: z.enum(['not-reproduced', 'normal', 'handling']),
    minutes: minutes.optional(),
    note: note.optional(),
  }),
]);

export const recordedReading = z.strictObject({
  readingId: uuid,
  at: instant,
  /** Null for a reading taken in a circuit without a check of the book. */
  checkId: slug.nullable(),
  title: z.string(),
  /** In words with units: what was read. */
  shows: z.string(),
  outcome: z.string().nullable(),
  skipped: z.string().nullable(),
  /** The reading as it was given; absent for a skipped check. */
  reading: reading.optional(),
});

export const comeback = z.strictObject({
  ofConcernId: uuid,
  ofJobId: uuid,
  ofJobNumber: z.int(),
  daysBetween: z.int(),
  km: z.int().nullable(),
  state: z.enum(['in-doubt', 'diagnosis-stands', 'diagnosis-taken-back', 'no-comeback']),
  classified: z.enum(['wrong-diagnosis', 'part-failed', 'workmanship', 'unrelated', 'declined']).nullable(),
  why: z.string(),
});

export const concern = z.strictObject({
  concernId: uuid,
  version,
  words: z.string(),
  symptomId: slug.nullable(),
  symptom: z.string().nullable(),
  state: z.enum(['open', 'closed']),
  readings: z.array(recordedReading),
  closing: closing.nullable(),
  closedAt: instant.nullable(),
  /** Titles of the proven causes. */
  causes: z.array(z.string()),
  comeback: comeback.nullable(),
});

export const approval = z.strictObject({
  approvalId: uuid,
  at: instant,
  who: z.string(),
  how: z.enum(['in-person', 'phone', 'message']),
  amount: money,
  words: z.string().nullable(),
});

export const job = z.strictObject({
  jobId: uuid,
  number: z.int(),
  version,
  status: jobStatus,
  openedAt: instant,
  closedAt: instant.nullable(),
  promiseAt: instant.nullable(),
  mileage_km: mileage_km.nullable(),
  keyTag: z.string().nullable(),
  technician: z.string().nullable(),
  note: z.string().nullable(),
  consent,
  vehicle: vehicle.nullable(),
  concerns: z.array(concern),
  advisories: z.array(advisory),
  /** Open advisories of earlier visits of the same vehicle. */
  earlierAdvisories: z.array(advisory),
  approvals: z.array(approval),
  doNotRide: z.boolean(),
  visits: z.array(visit),
});

export const jobRow = z.strictObject({
  jobId: uuid,
  number: z.int(),
  status: jobStatus,
  openedAt: instant,
  promiseAt: instant.nullable(),
  plate: z.string().nullable(),
  modelTitle: z.string(),
  customer: z.string().nullable(),
  technician: z.string().nullable(),
  keyTag: z.string().nullable(),
  concerns: z.array(z.string()),
  openConcerns: z.int(),
  doNotRide: z.boolean(),
  comeback: z.boolean(),
});

export type JobStatus = z.infer<typeof jobStatus>;
export type JobView = z.infer<typeof job>;
export type JobRow = z.infer<typeof jobRow>;
export type ConcernView = z.infer<typeof concern>;
export type Closing = z.infer<typeof closing>;
export type RecordedReading = z.infer<typeof recordedReading>;

const ofJob = { jobId: uuid, ifVersion: version.optional() };
const ofConcern = { jobId: uuid, concernId: uuid, ifVersion: version.optional() };

export const jobProcedures = {
  'jobs.open': procedure({
    kind: 'write',
    does: 'Opens a job card for one visit of one vehicle, with one or more concerns.',
    input: z.strictObject({
      jobId: uuid.optional(),
      vehicleId: uuid.optional(),
      vehicle: newVehicle.optional(),
      customerId: uuid.optional(),
      customer: newCustomer.optional(),
      concerns: z
        .array(z.strictObject({ concernId: uuid.optional(), words, symptomId: slug.optional() }))
        .min(1)
        .max(20),
      status: jobStatus.optional(),
      promiseAt: instant.optional(),
      mileage_km: mileage_km.optional(),
      keyTag: z.string().trim().max(20).optional(),
      technician: z.string().trim().max(60).optional(),
      note: note.optional(),
      consent: consent.partial().optional(),
      /** Answers given at the counter, for the first concern. */
      readings: z.array(reading).max(50).optional(),
    }),
    output: job,
  }),
  'jobs.get': procedure({
    kind: 'read',
    does: 'One job card, whole.',
    input: z.strictObject({ jobId: uuid.optional(), number: z.int().min(1).optional() }),
    output: job,
  }),
  'jobs.list': procedure({
    kind: 'read',
    does: 'Job cards by status, with search.',
    input: z.strictObject({
      statuses: z.array(jobStatus).optional(),
      text: z.string().max(200).optional(),
      vehicleId: uuid.optional(),
      limit: limit.optional(),
      /** Jobs with a number below this one. */
      beforeNumber: z.int().min(1).optional(),
    }),
    output: z.strictObject({ jobs: z.array(jobRow), counts: z.record(z.string(), z.int()) }),
  }),
  'jobs.update': procedure({
    kind: 'write',
    does: 'Changes what stands on the card: status, promise time, mileage, key tag, technician, consent.',
    input: z.strictObject({
      ...ofJob,
      set: z.strictObject({
        status: jobStatus.optional(),
        promiseAt: instant.nullable().optional(),
        mileage_km: mileage_km.nullable().optional(),
        keyTag: z.string().trim().max(20).nullable().optional(),
        technician: z.string().trim().max(60).nullable().optional(),
        note: note.nullable().optional(),
        consent: consent.partial().optional(),
      }),
    }),
    output: job,
  }),
  'jobs.addConcern': procedure({
    kind: 'write',
    does: 'Adds a concern to a card.',
    input: z.strictObject({ ...ofJob, concernId: uuid.optional(), words, symptomId: slug.optional() }),
    output: job,
  }),
  'jobs.editConcern': procedure({
    kind: 'write',
    does: 'Changes the words or the symptom of an open concern.',
    input: z.strictObject({ ...ofConcern, words: words.optional(), symptomId: slug.nullable().optional() }),
    output: job,
  }),
  'jobs.record': procedure({
    kind: 'write',
    does: 'Records a reading of a concern, and keeps the ranking that was shown.',
    input: z.strictObject({ ...ofConcern, readingId: uuid.optional(), reading }),
    output: job,
  }),
  'jobs.skip': procedure({
    kind: 'write',
    does: 'Notes that a check was left out, and why ("no tool").',
    input: z.strictObject({ ...ofConcern, readingId: uuid.optional(), checkId: slug, why: line }),
    output: job,
  }),
  'jobs.undo': procedure({
    kind: 'write',
    does: 'Takes back a reading, a skip, or the last one of them.',
    input: z.strictObject({ ...ofConcern, readingId: uuid.optional() }),
    output: job,
  }),
  'jobs.bench': procedure({
    kind: 'read',
    does: 'What a concern could be and what to do next, from its readings.',
    input: z.strictObject({ jobId: uuid, concernId: uuid }),
    output: z.strictObject({ ranking: ranking.nullable(), plan: plan.nullable() }),
  }),
  'jobs.approve': procedure({
    kind: 'write',
    does: 'Keeps who approved how much, when and how.',
    input: z.strictObject({
      ...ofJob,
      approvalId: uuid.optional(),
      who: line,
      how: z.enum(['in-person', 'phone', 'message']),
      amount: money,
      words: note.optional(),
    }),
    output: job,
  }),
  'jobs.advise': procedure({
    kind: 'write',
    does: 'Notes something found beside the concerns; it never counts for a symptom.',
    input: z.strictObject({
      ...ofJob,
      advisoryId: uuid.optional(),
      words,
      urgency,
      doNotRide: z.boolean().optional(),
    }),
    output: job,
  }),
  'jobs.settleAdvisory': procedure({
    kind: 'write',
    does: 'Marks an advisory as done, declined, or open again.',
    input: z.strictObject({ ...ofJob, advisoryId: uuid, state: z.enum(['open', 'settled', 'declined']) }),
    output: job,
  }),
  'jobs.close': procedure({
    kind: 'write',
    does: 'Closes a concern with its causes and proof, or without; the tally moves in the same transaction.',
    input: z.strictObject({
      jobId: uuid,
      /** May be left out where the job has one open concern. */
      concernId: uuid.optional(),
      ifVersion: version.optional(),
      closing,
    }),
    output: job,
  }),
  'jobs.reopen': procedure({
    kind: 'write',
    does: 'Opens a closed concern again and takes its count back.',
    input: z.strictObject(ofConcern),
    output: job,
  }),
  'jobs.classify': procedure({
    kind: 'write',
    does: "The manager's word on a comeback; the tally follows.",
    input: z.strictObject({
      ...ofConcern,
      as: z.enum(['wrong-diagnosis', 'part-failed', 'workmanship', 'unrelated', 'declined']).nullable(),
    }),
    output: job,
  }),
} as const;
