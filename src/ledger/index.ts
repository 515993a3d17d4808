/** Front door of the ledger room: closed concerns → tally, comebacks, and what keeps coming back. */
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
  type DatedConcern,
  type DayPartRow,
  type MonthCauseRow,
  type MonthRepairRow,
  type MonthRow,
  type MonthRows,
  monthDelta,
  monthRowsOf,
  type RepairGrouping,
  repairGroupings,
} from './month-tally.ts';
export * from './reports/index.ts';
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
