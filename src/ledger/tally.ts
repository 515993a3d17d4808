import { proofWeight, type TallyRow } from '../book/index.ts';
import type { FamilyId, ModelId, SymptomId } from '../terms.ts';
import type { ClosedConcern } from './closed-concern.ts';

/** How many concerns of a symptom closed how, by model; proven ones that were taken back are not among them. */
export interface ClosedRow {
  readonly symptomId: SymptomId;
  readonly outcome: ClosedConcern['outcome'];
  readonly modelId: ModelId | null;
  readonly familyId: FamilyId | null;
  readonly concerns: number;
}

/**
 * What one closed concern adds to the tally. Its weight by proof (retested 1,000,000, measured 750,000, replaced
 * 500,000 millionths) is split over its causes, so that a concern never gives more than 1 and causes repaired together are
 * none of them fully proven; what does not divide goes to the first causes by id. Every cause counts the concern
 * once. Nothing for an unproven or taken-back concern, or one without a symptom.
 */
export function tallyRowsOf(concern: ClosedConcern): TallyRow[] {
  const { symptomId, proof, modelId, familyId } = concern;
  if (concern.outcome !== 'proven' || concern.takenBack || symptomId === null || proof === null) return [];
  const causes = [...new Set(concern.causes)].sort();
  const weight = proofWeight[proof];
  const part = Math.floor(weight / causes.length);
  const left = weight - part * causes.length;
  return causes.map((causeId, place) => ({
    symptomId,
    causeId,
    modelId,
    familyId,
    concerns: 1,
    weight: part + (place < left ? 1 : 0),
  }));
}

/** What one closed concern adds to the count of closed concerns. */
export function closedRowsOf(concern: ClosedConcern): ClosedRow[] {
  const { symptomId, outcome, modelId, familyId } = concern;
  if (symptomId === null || (outcome === 'proven' && concern.takenBack)) return [];
  return [{ symptomId, outcome, modelId, familyId, concerns: 1 }];
}

/** The rows to add when a concern changes from `before` to `after` (null: not closed); negative numbers take away. */
export function tallyDelta(before: ClosedConcern | null, after: ClosedConcern | null): TallyRow[] {
  return summed(tallyKey, [
    ...(before ? tallyRowsOf(before).map(negated) : []),
    ...(after ? tallyRowsOf(after) : []),
  ]);
}

/** The same for the count of closed concerns. */
export function closedDelta(before: ClosedConcern | null, after: ClosedConcern | null): ClosedRow[] {
  const taken = before ? closedRowsOf(before).map((row) => ({ ...row, concerns: -row.concerns })) : [];
  return summed(closedKey, [...taken, ...(after ? closedRowsOf(after) : [])]);
}

/** The tally with rows added; rows that come to nothing are dropped, the rest stands in the order of its keys. */
export function addToTally(tally: readonly TallyRow[], rows: readonly TallyRow[]): TallyRow[] {
  return summed(tallyKey, [...tally, ...rows]);
}

/** The tally with rows taken away. */
export function removeFromTally(tally: readonly TallyRow[], rows: readonly TallyRow[]): TallyRow[] {
  return summed(tallyKey, [...tally, ...rows.map(negated)]);
}

/** The tally from nothing but the closed concerns; equal to adding them one by one, in any order. */
export function rebuildTally(concerns: Iterable<ClosedConcern>): TallyRow[] {
  const rows: TallyRow[] = [];
  for (const concern of concerns) rows.push(...tallyRowsOf(concern));
  return summed(tallyKey, rows);
}

export function rebuildClosed(concerns: Iterable<ClosedConcern>): ClosedRow[] {
  const rows: ClosedRow[] = [];
  for (const concern of concerns) rows.push(...closedRowsOf(concern));
  return summed(closedKey, rows);
}

const negated = (row: TallyRow): TallyRow => ({ ...row, concerns: -row.concerns, weight: -row.weight });
const tallyKey = (row: TallyRow): string =>
  JSON.stringify([row.symptomId, row.causeId, row.modelId, row.familyId]);
const closedKey = (row: ClosedRow): string =>
  JSON.stringify([row.symptomId, row.outcome, row.modelId, row.familyId]);

function summed<R extends { readonly concerns: number; readonly weight?: number }>(
  keyOf: (row: R) => string,
  rows: readonly R[],
): R[] {
  const sums = new Map<string, R>();
  for (const row of rows) {
    const key = keyOf(row);
    const sum = sums.get(key);
    sums.set(key, sum ? added(sum, row) : row);
  }
  return [...sums]
    .filter(([, row]) => row.concerns !== 0 || (row.weight ?? 0) !== 0)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, row]) => row);
}

function added<R extends { readonly concerns: number; readonly weight?: number }>(sum: R, row: R): R {
  const concerns = sum.concerns + row.concerns;
  return sum.weight === undefined
    ? { ...sum, concerns }
    : { ...sum, concerns, weight: sum.weight + (row.weight ?? 0) };
}
