/**
 * One repair question as numbers: hypotheses (the causes, the last place "not in the book") with what their repair
 * costs, and the checks with the chances of their outcomes. All costs are in minutes; money is turned into minutes by
 * the labor rate.
 */
export interface PlanProblem {
  readonly width: number;
  /** Repair labor plus part money, minutes, above 0. */
  readonly repairCost: Float64Array;
  /** Repair labor alone. */
  readonly repairMinutes: Float64Array;
  readonly checks: readonly PlanCheck[];
}

export interface PlanCheck {
  /** Cost with nothing open and no precondition settled, minutes. */
  readonly cost: number;
  /** Never less than this, however much is open. */
  readonly leastCost: number;
  /** What is saved when a bit of the setup (open access) is already there. */
  readonly savings: readonly { readonly bit: number; readonly minutes: number }[];
  /** What is added until a bit (a settled precondition) is there. */
  readonly extras: readonly { readonly bit: number; readonly minutes: number }[];
  /** Bits that are there once the check is done. */
  readonly sets: number;
  /** `outcomes` rows of `width` chances. */
  readonly outcomes: number;
  readonly chances: Float64Array;
}

/** Minutes that a check costs with the setup as it is. */
export function checkCost(check: PlanCheck, setup: number): number {
  let cost = check.cost;
  for (const { bit, minutes } of check.savings) if (setup & bit) cost -= minutes;
  cost = Math.max(cost, check.leastCost);
  for (const { bit, minutes } of check.extras) if (!(setup & bit)) cost += minutes;
  return cost;
}

/** Weights (not normalized) after an outcome: the belief times the chance of the outcome. */
export function afterOutcome(
  problem: PlanProblem,
  check: PlanCheck,
  outcome: number,
  belief: ArrayLike<number>,
  into: Float64Array,
): number {
  const { width } = problem;
  const row = outcome * width;
  let mass = 0;
  for (let k = 0; k < width; k++) {
    const weight = (belief[k] as number) * (check.chances[row + k] as number);
    into[k] = weight;
    mass += weight;
  }
  return mass;
}

/** Bits that an outcome tells about a belief: mutual information of check and cause. */
export function informationOf(problem: PlanProblem, check: PlanCheck, belief: ArrayLike<number>): number {
  const { width } = problem;
  let bits = 0;
  for (let outcome = 0; outcome < check.outcomes; outcome++) {
    let mass = 0;
    for (let k = 0; k < width; k++)
      mass += (belief[k] as number) * (check.chances[outcome * width + k] as number);
    if (mass <= 0) continue;
    for (let k = 0; k < width; k++) {
      const joint = (belief[k] as number) * (check.chances[outcome * width + k] as number);
      if (joint > 0) bits += joint * Math.log2((check.chances[outcome * width + k] as number) / mass);
    }
  }
  return bits;
}
