import { type Proof, type TallyRow, unlistedCause } from '../book/index.ts';
import { type ClosedConcern, type ClosedRow, closedDelta, tallyDelta } from '../ledger/index.ts';
import {
  causesOf,
  comebacksOf,
  type Db,
  findConcern,
  jobOfConcern,
  moveClosed,
  moveTally,
  type Tables,
} from '../store/index.ts';
import type { CauseId, ConcernId, FamilyId, JobId, ModelId, SymptomId, VehicleId } from '../terms.ts';

/** A closed concern as the ledger counts it; null while it is open or unknown. */
export async function ledgerConcern(db: Db, concernId: string): Promise<ClosedConcern | null> {
  const row = await findConcern(db, concernId);
  if (row?.state !== 'closed' || row.outcome === null) return null;
  const job = await jobOfConcern(db, concernId);
  const causes = await causesOf(db, concernId);
  const returns = await comebacksOf(db, concernId);
  return {
    concernId: row.id as ConcernId,
    jobId: row.job_id as JobId,
    vehicleId: (job?.vehicle_id ?? null) as VehicleId | null,
    modelId: row.model_id as ModelId | null,
    familyId: row.family_id as FamilyId | null,
    symptomId: row.symptom_id as SymptomId | null,
    closedAt: row.closed_ms ?? 0,
    mileage_km: job?.mileage_km ?? null,
    outcome: row.outcome,
    causes: causes.map((cause) => (cause.cause_id === null ? unlistedCause : (cause.cause_id as CauseId))),
    proof: row.proof as Proof | null,
    takenBack: returns.some((second) => second.comeback_state === 'diagnosis-taken-back'),
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
  const ids = [...new Set(concernIds)];
  const before: (ClosedConcern | null)[] = [];
  for (const id of ids) before.push(await ledgerConcern(db, id));
  await step();
  for (const [place, id] of ids.entries()) {
    const after = await ledgerConcern(db, id);
    const was = before[place] ?? null;
    for (const row of tallyDelta(was, after)) await moveTally(db, tallyTableRow(row));
    for (const row of closedDelta(was, after)) await moveClosed(db, closedTableRow(row));
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
