import { type Proof, type TallyRow, unlistedCause } from '../book/index.ts';
import {
  type ClosedConcern,
  type ClosedRow,
  closedDelta,
  rebuildClosed,
  rebuildTally,
  tallyDelta,
} from '../ledger/index.ts';
import {
  type ConcernRow,
  causesOf,
  closedConcerns,
  comebacksOf,
  type Db,
  findConcern,
  jobOfConcern,
  loadWholeTally,
  moveClosed,
  moveTally,
  replaceTally,
  type Tables,
} from '../store/index.ts';
import type { CauseId, ConcernId, FamilyId, JobId, ModelId, SymptomId, VehicleId } from '../terms.ts';

/** A closed concern as the ledger counts it; null while it is open or unknown. */
export async function ledgerConcern(db: Db, concernId: string): Promise<ClosedConcern | null> {
  const row = await findConcern(db, concernId);
  if (row?.state !== 'closed') return null;
  const job = await jobOfConcern(db, concernId);
  const causes = await causesOf(db, concernId);
  const returns = await comebacksOf(db, concernId);
  return closedConcernOf(row, {
    vehicleId: job?.vehicle_id ?? null,
    mileage_km: job?.mileage_km ?? null,
    causes,
    takenBack: returns.some((second) => second.comeback_state === 'diagnosis-taken-back'),
  });
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

/**
 * Counts the whole tally anew from the closed concerns.
 * @returns how many rows were different from what stood there; 0 when every step had moved it rightly
 */
export async function rebuildFromJobs(db: Db): Promise<number> {
  const { rows, causes, takenBack } = await closedConcerns(db);
  const causesById = Map.groupBy(causes, (cause) => cause.concern_id);
  const concerns = rows
    .map((row) =>
      closedConcernOf(row, {
        vehicleId: row.vehicle_id,
        mileage_km: row.job_mileage_km,
        causes: causesById.get(row.id) ?? [],
        takenBack: takenBack.has(row.id),
      }),
    )
    .filter((concern) => concern !== null);
  const tally = rebuildTally(concerns).map(tallyTableRow);
  const closed = rebuildClosed(concerns).map(closedTableRow);
  const present = await loadWholeTally(db);
  const changed = differences(present.tally, tally) + differences(present.closed, closed);
  if (changed > 0) await replaceTally(db, tally, closed);
  return changed;
}

function differences<R extends object>(before: readonly R[], after: readonly R[]): number {
  const text = (row: R): string => JSON.stringify(Object.entries(row).sort());
  const left = new Set(before.map(text));
  const right = new Set(after.map(text));
  return (
    [...left].filter((row) => !right.has(row)).length + [...right].filter((row) => !left.has(row)).length
  );
}
