export {
  type CauseShares,
  causeShares,
  concentrationLimits,
  type ScopeCounts,
} from './cause-shares.ts';
export { type CausePair, type Contradiction, secondFaultRate, surpriseLimit } from './contradiction.ts';
export type { ApartCounts, RankInput } from './diagnose.ts';
export { valueAtSpec } from './evidence.ts';
export { fitConcentration, logDirichletMultinomial } from './fit-concentration.ts';
export { type JudgeInput, judgedQuantities, judgeReading } from './judge/judge-reading.ts';
export { type Judgement, type Verdict, verdicts } from './judge/judgement.ts';
export { healthyChances, outcomeChances } from './outcome-chances.ts';
export type { ShopCosts } from './plan/build-problem.ts';
export { basisWords, type CheckView, type OutcomeView } from './plan/check-view.ts';
export {
  type Conclusion,
  nextChecks,
  type Plan,
  type PlanInput,
  type PreconditionView,
} from './plan/next-checks.ts';
export { repairOrder } from './plan/repair-order.ts';
export { type RankedCause, type Ranking, rankCauses } from './rank-causes.ts';
export { type ReadValueOptions, readValue } from './read-value.ts';
export {
  acceptReading,
  acceptReadings,
  type CircuitReading,
  type GivenReading,
  type LampWord,
  lampWords,
  type OutcomeReading,
  outcomeOfValue,
  type ReadingConditions,
  type ReadingInput,
  type ValueReading,
} from './reading.ts';
export { type NoticedSymptom, noticedSymptoms } from './wiring/noticed-symptoms.ts';
export type { WiringCache } from './wiring/shown-values.ts';
export { causeSeverities, wiringLikelihood } from './wiring/wiring-for-model.ts';
export type { WiringLikelihood } from './wiring/wiring-likelihood.ts';
