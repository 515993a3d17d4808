/** Front door of the ledger room: closed concerns → tally and comebacks. */
export type { ClosedConcern } from './closed-concern.ts';
export {
  type ComebackClass,
  type ComebackDecision,
  type ComebackMatch,
  type ComebackState,
  type ComebackWindow,
  comebackClasses,
  comebackDelta,
  decideComeback,
  defaultComebackWindow,
  firstUnder,
  matchComeback,
  type ReturnedConcern,
} from './comeback.ts';
export {
  addToTally,
  type ClosedRow,
  closedDelta,
  closedRowsOf,
  rebuildClosed,
  rebuildTally,
  removeFromTally,
  tallyDelta,
  tallyRowsOf,
} from './tally.ts';
