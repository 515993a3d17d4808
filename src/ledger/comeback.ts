import { type TallyRow, unlistedCause } from '../book/index.ts';
import type { SymptomId } from '../terms.ts';
import type { ClosedConcern } from './closed-concern.ts';
import { type ClosedRow, closedDelta, tallyDelta } from './tally.ts';

/** Back within either limit counts. */
export interface ComebackWindow {
  readonly days: number;
  readonly km: number;
}

export const defaultComebackWindow: ComebackWindow = { days: 90, km: 1000 };
const msOfDay = 86_400_000;

export interface ComebackMatch {
  readonly of: ClosedConcern;
  /** Whole days from the closing to the return. */
  readonly daysBetween: number;
  /** Null where one of the mileages is not known, or the later one is the smaller. */
  readonly km: number | null;
  readonly why: string;
}

export interface ReturnedConcern {
  readonly symptomId: SymptomId | null;
  /** UTC milliseconds. */
  readonly openedAt: number;
  readonly mileage_km: number | null;
  /** Closed concerns of the same job are no earlier visit. */
  readonly jobId?: string | undefined;
}

/**
 * The earlier repair that a new concern puts in doubt: the last proven concern of the same vehicle with the same or a
 * related symptom, closed before and inside the window (so many days, or so many km). Null when there is none.
 * `isRelated` answers for two different symptoms and is asked both ways round.
 */
export function matchComeback(
  history: readonly ClosedConcern[],
  returned: ReturnedConcern,
  isRelated: (one: SymptomId, other: SymptomId) => boolean,
  window: ComebackWindow = defaultComebackWindow,
): ComebackMatch | null {
  const { symptomId } = returned;
  if (symptomId === null) return null;
  let last: ComebackMatch | null = null;
  for (const of of history) {
    if (of.outcome !== 'proven' || of.takenBack || of.symptomId === null) continue;
    if (of.closedAt > returned.openedAt || (returned.jobId !== undefined && of.jobId === returned.jobId))
      continue;
    const isSame = of.symptomId === symptomId;
    if (!isSame && !isRelated(symptomId, of.symptomId) && !isRelated(of.symptomId, symptomId)) continue;
    const daysBetween = Math.floor((returned.openedAt - of.closedAt) / msOfDay);
    const driven =
      returned.mileage_km === null || of.mileage_km === null ? -1 : returned.mileage_km - of.mileage_km;
    const km = driven >= 0 ? driven : null;
    if (daysBetween > window.days && (km === null || km > window.km)) continue;
    if (last && last.of.closedAt >= of.closedAt) continue;
    const after = km === null ? '' : ` and ${km} km`;
    const symptom = isSame ? 'the same symptom' : 'a related symptom';
    last = {
      of,
      daysBetween,
      km,
      why: `Back with ${symptom} after ${daysBetween} ${daysBetween === 1 ? 'day' : 'days'}${after}.`,
    };
  }
  return last;
}

export const comebackClasses = [
  'wrong-diagnosis',
  'part-failed',
  'workmanship',
  'unrelated',
  'declined',
] as const;
/** The manager's word. */
export type ComebackClass = (typeof comebackClasses)[number];
export type ComebackState = 'in-doubt' | 'diagnosis-stands' | 'diagnosis-taken-back' | 'no-comeback';

export interface ComebackDecision {
  readonly state: ComebackState;
  /** What the return counts against: the part (with its supplier), the work, one of both until the manager says which, or the diagnosis. */
  readonly against: 'part' | 'work' | 'part-or-work' | 'diagnosis' | null;
  readonly why: string;
}

/**
 * What a return says about the first repair, decided when the second concern closes (null while it is open). A
 * different cause takes the first diagnosis back; the same cause leaves it standing and counts against part or work;
 * nothing found, normal behavior or handling is no comeback. The manager's word goes before all of it; taking the word back
 * (null) decides anew. `hadParts`: whether parts were fitted in the first repair, where that is known.
 */
export function decideComeback(
  first: Pick<ClosedConcern, 'causes'>,
  second: Pick<ClosedConcern, 'outcome' | 'causes'> | null,
  classified: ComebackClass | null = null,
  hadParts?: boolean,
): ComebackDecision {
  switch (classified) {
    case 'wrong-diagnosis':
      return {
        state: 'diagnosis-taken-back',
        against: 'diagnosis',
        why: 'The manager says: the first diagnosis was wrong.',
      };
    case 'part-failed':
      return { state: 'diagnosis-stands', against: 'part', why: 'The manager says: the part failed.' };
    case 'workmanship':
      return { state: 'diagnosis-stands', against: 'work', why: 'The manager says: the work did not hold.' };
    case 'unrelated':
      return {
        state: 'no-comeback',
        against: null,
        why: 'The manager says: this has nothing to do with the first repair.',
      };
    case 'declined':
      return {
        state: 'no-comeback',
        against: null,
        why: 'The manager says: the customer had declined the work.',
      };
    case null:
      break;
  }
  if (second === null) {
    return { state: 'in-doubt', against: null, why: 'Decided when this concern is closed.' };
  }
  if (second.outcome !== 'proven') {
    return { state: 'no-comeback', against: null, why: 'No fault was proven this time.' };
  }
  const listed = second.causes.filter((cause) => cause !== unlistedCause);
  if (listed.some((cause) => first.causes.includes(cause))) {
    const against = hadParts === undefined ? 'part-or-work' : hadParts ? 'part' : 'work';
    return {
      state: 'diagnosis-stands',
      against,
      why: 'The same cause again: the diagnosis stands, part or work did not hold.',
    };
  }
  if (second.causes.includes(unlistedCause) && first.causes.includes(unlistedCause)) {
    return {
      state: 'in-doubt',
      against: null,
      why: 'Both times a cause that the book lacks: only the manager can say whether it is the same.',
    };
  }
  return {
    state: 'diagnosis-taken-back',
    against: 'diagnosis',
    why: 'A different cause was proven this time.',
  };
}

/** The first concern as it stands under a decision. */
export function firstUnder(first: ClosedConcern, state: ComebackState): ClosedConcern {
  return { ...first, takenBack: state === 'diagnosis-taken-back' };
}

/**
 * Rows to add to the tally when the decision about a first concern changes; also the way back, when the second
 * closing is undone, reopened or reclassified.
 */
export function comebackDelta(
  first: ClosedConcern,
  before: ComebackState,
  after: ComebackState,
): { readonly tally: TallyRow[]; readonly closed: ClosedRow[] } {
  const was = firstUnder(first, before);
  const is = firstUnder(first, after);
  return { tally: tallyDelta(was, is), closed: closedDelta(was, is) };
}
