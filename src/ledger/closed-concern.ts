import type { Proof, UnprovenOutcome } from '../book/index.ts';
import type { CauseId, ConcernId, FamilyId, JobId, ModelId, SymptomId, VehicleId } from '../terms.ts';

/** A concern as the ledger keeps it once it is closed. */
export interface ClosedConcern {
  readonly concernId: ConcernId;
  readonly jobId: JobId;
  readonly vehicleId: VehicleId | null;
  /** Null for a vehicle whose model is not known. */
  readonly modelId: ModelId | null;
  readonly familyId: FamilyId | null;
  /** Null where nobody named a symptom: such a concern enters no tally. */
  readonly symptomId: SymptomId | null;
  /** UTC milliseconds. */
  readonly closedAt: number;
  readonly mileage_km: number | null;
  readonly outcome: 'proven' | UnprovenOutcome;
  /** Proven causes; `unlistedCause` for one that the book lacks. Empty unless proven. */
  readonly causes: readonly CauseId[];
  /** Null unless proven. */
  readonly proof: Proof | null;
  /** True where a comeback took the diagnosis back: the concern then proves nothing. */
  readonly takenBack: boolean;
}
