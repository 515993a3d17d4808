import { type Proof, proofWeight, type TallyRow, unlistedCause } from '../book/index.ts';
import {
  type ClosedConcern,
  type ClosedRow,
  closedDelta,
  type DatedConcern,
  monthDelta,
  tallyDelta,
} from '../ledger/index.ts';
import {
  type ConcernRow,
  causesOf,
  comebacksOf,
  concernsOfJobs,
  type Db,
  findConcern,
  jobOfConcern,
  jobsOfConcerns,
  moveClosed,
  moveMonths,
  moveTally,
  partsOf,
  rebuildMonths,
  recountTally,
  type Tables,
} from '../store/index.ts';
import type { CauseId, ConcernId, FamilyId, JobId, ModelId, SymptomId, VehicleId } from '../terms.ts';

/** A closed concern as the ledger counts it; null while it is open or unknown. */
export async function ledgerConcern(db: Db, concernId: string): Promise<DatedConcern | null> {
  const row = await findConcern(db, concernId);
  if (row?.state !== 'closed') return null;
  const job = await jobOfConcern(db, concernId);
  const causes = await causesOf(db, concernId);
  const returns = await comebacksOf(db, concernId);
  const closed = closedConcernOf(row, {
    vehicleId: job?.vehicle_id ?? null,
    mileage_km: job?.mileage_km ?? null,
    causes,
    takenBack: returns.some((second) => second.comeback_state === 'diagnosis-taken-back'),
  });
  return (
    closed && {
      ...closed,
      offset: row.closed_offset ?? 0,
      parts: await partsOf(db, concernId),
      cameBack: returns.some((second) => second.comeback_state === 'diagnosis-stands'),
      isFirstOfVisit: isFirst(row, await concernsOfJobs(db, [row.job_id])),
    }
  );
}

/** Whether no other concern of the job was closed before; of two closed at once the smaller id is the first. */
const isFirst = (row: ConcernRow, ofJob: readonly ConcernRow[]): boolean =>
  ofJob.every((other) => {
    if (other.state !== 'closed' || other.id === row.id) return true;
    const later = (other.closed_ms ?? 0) - (row.closed_ms ?? 0);
    return later > 0 || (later === 0 && other.id > row.id);
  });

/** The concerns themselves and what was on the same cards: the first closing of a visit may pass to another. */
async function withSiblings(db: Db, concernIds: readonly string[]): Promise<string[]> {
  const jobs = await jobsOfConcerns(db, concernIds);
  const siblings = await concernsOfJobs(
    db,
    jobs.map((job) => job.job_id),
  );
  return [...new Set([...concernIds, ...siblings.map((concern) => concern.id)])];
}

interface Around {
  readonly vehicleId: string | null;
  readonly mileage_km: number | null;
  readonly causes: readonly { readonly cause_id: string | null }[];
  readonly takenBack: boolean;
}

function closedConcernOf(row: ConcernRow, around: Around): ClosedConcern | null {
  if (row.outcome === null) return null;
  return {
    concernId: row.id as ConcernId,
    jobId: row.job_id as JobId,
    vehicleId: around.vehicleId as VehicleId | null,
    modelId: row.model_id as ModelId | null,
    familyId: row.family_id as FamilyId | null,
    symptomId: row.symptom_id as SymptomId | null,
    closedAt: row.closed_ms ?? 0,
    mileage_km: around.mileage_km,
    outcome: row.outcome,
    causes: around.causes.map((cause) =>
      cause.cause_id === null ? unlistedCause : (cause.cause_id as CauseId),
    ),
    proof: row.proof as Proof | null,
    takenBack: around.takenBack,
  };
}

/**
 * Lets `step` change concerns and moves the tally by exactly what that changed, in the same transaction.
 * @param concernIds every concern whose closing, or whose standing after a comeback, the step may change
 */
export async function movingTally(
  db: Db,
  concernIds: readonly string[],
  step: () => Promise<void>,
): Promise<void> {
  const ids = await withSiblings(db, concernIds);
  const before: (DatedConcern | null)[] = [];
  for (const id of ids) before.push(await ledgerConcern(db, id));
  await step();
  for (const [place, id] of ids.entries()) {
    const after = await ledgerConcern(db, id);
    const was = before[place] ?? null;
    for (const row of tallyDelta(was, after)) await moveTally(db, tallyTableRow(row));
    for (const row of closedDelta(was, after)) await moveClosed(db, closedTableRow(row));
    await moveMonths(db, monthDelta(was, after));
  }
}

export const tallyTableRow = (row: TallyRow): Tables['tally'] => ({
  symptom_id: row.symptomId,
  cause_id: row.causeId,
  model_id: row.modelId ?? '',
  family_id: row.familyId ?? '',
  concerns: row.concerns,
  weight: row.weight,
});

export const closedTableRow = (row: ClosedRow): Tables['tally_closed'] => ({
  symptom_id: row.symptomId,
  outcome: row.outcome,
  model_id: row.modelId ?? '',
  family_id: row.familyId ?? '',
  concerns: row.concerns,
});

/**
 * Counts the whole tally and the months anew from the closed concerns.
 * @returns how many rows were different from what stood there; 0 when every step had moved it rightly
 */
export async function rebuildFromJobs(db: Db): Promise<number> {
  return (
    (await recountTally(db, { weights: proofWeight, unlisted: unlistedCause })) + (await rebuildMonths(db))
  );
}
