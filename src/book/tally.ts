import type { CauseId, FamilyId, ModelId, SymptomId } from '../terms.ts';

/** How a concern's cause was proven, and what that is worth as evidence (millionths of one concern). */
export const proofs = ['retested', 'replaced', 'measured'] as const;
export type Proof = (typeof proofs)[number];
export const proofWeight: Readonly<Record<Proof, number>> = {
  retested: 1_000_000,
  measured: 750_000,
  replaced: 500_000,
};

/** How a concern ended when no cause was proven. */
export const unprovenOutcomes = ['not-reproduced', 'normal', 'handling'] as const;
export type UnprovenOutcome = (typeof unprovenOutcomes)[number];

/** Stands in a tally for a closed cause that the book lacks. */
export const unlistedCause = '(not in the book)' as CauseId;

/** One row of the tally: closed concerns of one model that proved one cause of one symptom. */
export interface TallyRow {
  readonly symptomId: SymptomId;
  readonly causeId: CauseId;
  /** Null for a vehicle whose model is not known. */
  readonly modelId: ModelId | null;
  readonly familyId: FamilyId | null;
  /** Whole concerns in which this cause was among the proven ones. */
  readonly concerns: number;
  /** Evidence in millionths of a concern. */
  readonly weight: number;
}
