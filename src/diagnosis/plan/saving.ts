import { afterOutcome, checkCost, type PlanCheck, type PlanProblem } from './plan-state.ts';
import { repairCostOf } from './repair-order.ts';

/** What one check is worth by itself: check, then repair in order of probability over cost. Hands-on minutes, no money. */
export interface Saving {
  /** Minutes saved; negative where the check costs more time than it saves. */
  readonly minutes: number;
  /** Minutes that repairing in order would waste without it: all but the repair of the true cause. */
  readonly of: number;
  /** Minutes and part money together, in minutes of labor. */
  readonly inAll: number;
}

export function savingOf(
  problem: PlanProblem,
  check: PlanCheck,
  belief: Float64Array,
  setup: number,
): Saving {
  const { width, repairCost, repairMinutes } = problem;
  const order = Int32Array.from({ length: width }, (_, k) => k);
  const keys = new Float64Array(width);
  const next = new Float64Array(width);
  const before = { minutes: 0 };
  const costBefore = repairCostOf(belief, repairCost, order, keys, repairMinutes, before);
  const own = checkCost(check, setup);
  const after = { minutes: own };
  let costAfter = own;
  for (let outcome = 0; outcome < check.outcomes; outcome++) {
    if (afterOutcome(problem, check, outcome, belief, next) <= 0) continue;
    costAfter += repairCostOf(next, repairCost, order, keys, repairMinutes, after);
  }
  let unavoidable = 0;
  for (let k = 0; k < width; k++) unavoidable += (belief[k] as number) * (repairMinutes[k] as number);
  return {
    minutes: before.minutes - after.minutes,
    of: Math.max(0, before.minutes - unavoidable),
    inAll: costBefore - costAfter,
  };
}
