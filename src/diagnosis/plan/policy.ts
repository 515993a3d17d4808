import { afterOutcome, checkCost, type PlanProblem } from './plan-state.ts';
import { repairCostOf } from './repair-order.ts';

/** How far the rollout looks. */
export interface PolicyLimits {
  /** Checks tried as the first step with the full base policy behind them. */
  readonly firstSteps: number;
  readonly depth: number;
  /** Outcomes rarer than this are closed by repairing in order. */
  readonly leastMass: number;
  /** Checks that the base policy chooses from: the best by lookahead at the start. */
  readonly laterSteps: number;
  /** Nodes of the base policy's tree behind one first step. */
  readonly nodes: number;
}

export const policyLimits: PolicyLimits = {
  firstSteps: 6,
  depth: 6,
  leastMass: 0.004,
  laterSteps: 36,
  nodes: 500,
};

export interface ValuedCheck {
  readonly place: number;
  /** Check now, then repair in order of probability over cost, minutes. */
  readonly lookahead: number;
  /** Check now, then go on by the base policy; for the best few only. */
  readonly rollout: number | null;
  /** What it costs itself. */
  readonly cost: number;
}

export interface Valuation {
  /** Repair now, in order. */
  readonly repairNow: number;
  readonly repairNowMinutes: number;
  /** Best first. */
  readonly checks: readonly ValuedCheck[];
  /** Expected hands-on minutes on the best way, repair included. */
  readonly minutes: number;
}

/**
 * Values every check by one-step lookahead, and the best few by a rollout over the base policy (at each belief the
 * check with the best one-step lookahead, or repairing when none pays). Costs are minutes in all until the cause is
 * repaired. `setup` holds the bits of what is open and settled, `used` which checks are not to be used again.
 * Sources: Breese and Heckerman 1996 (lookahead); Bertsekas, rollout over a base policy.
 */
export function valueChecks(
  problem: PlanProblem,
  belief: Float64Array,
  setup: number,
  used: ReadonlySet<number> = new Set(),
  limits: PolicyLimits = policyLimits,
): Valuation {
  const { width, checks, repairCost, repairMinutes } = problem;
  const order = Int32Array.from({ length: width }, (_, k) => k);
  const keys = new Float64Array(width);
  const scratch = new Float64Array(width);
  const isUsed = new Uint8Array(checks.length);
  for (const place of used) isUsed[place] = 1;
  const levels = Array.from({ length: limits.depth + 2 }, () => new Float64Array(width));
  let later: readonly number[] = [];
  let nodes = 0;

  const lookahead = (place: number, weights: Float64Array, mass: number, bits: number): number => {
    const check = checks[place] as (typeof checks)[number];
    let cost = mass * checkCost(check, bits);
    for (let outcome = 0; outcome < check.outcomes; outcome++) {
      if (afterOutcome(problem, check, outcome, weights, scratch) > 0)
        cost += repairCostOf(scratch, repairCost, order, keys);
    }
    return cost;
  };

  /** Cost of going on from a belief by the base policy, scaled by the belief's mass; minutes go to `sums`. */
  const basePolicy = (
    weights: Float64Array,
    mass: number,
    bits: number,
    depth: number,
    sums: { minutes: number },
  ): number => {
    const repairSums = { minutes: 0 };
    const repairNow = repairCostOf(weights, repairCost, order, keys, repairMinutes, repairSums);
    nodes++;
    if (depth >= limits.depth || mass < limits.leastMass || nodes > limits.nodes) {
      sums.minutes += repairSums.minutes;
      return repairNow;
    }
    let best = -1;
    let bestCost = repairNow - 1e-9 * mass;
    for (const place of later) {
      if (isUsed[place]) continue;
      const cost = lookahead(place, weights, mass, bits);
      if (cost < bestCost) {
        best = place;
        bestCost = cost;
      }
    }
    if (best < 0) {
      sums.minutes += repairSums.minutes;
      return repairNow;
    }
    return stepThen(best, weights, mass, bits, depth, sums);
  };

  const stepThen = (
    place: number,
    weights: Float64Array,
    mass: number,
    bits: number,
    depth: number,
    sums: { minutes: number },
  ): number => {
    const check = checks[place] as (typeof checks)[number];
    const own = checkCost(check, bits);
    let cost = mass * own;
    sums.minutes += mass * own;
    isUsed[place] = 1;
    const next = levels[depth] as Float64Array;
    for (let outcome = 0; outcome < check.outcomes; outcome++) {
      const left = afterOutcome(problem, check, outcome, weights, next);
      if (left > 0) cost += basePolicy(next, left, bits | check.sets, depth + 1, sums);
    }
    isUsed[place] = 0;
    return cost;
  };

  let mass = 0;
  for (const weight of belief) mass += weight;
  const root = belief.map((weight) => weight / mass);
  const rootSums = { minutes: 0 };
  const repairNow = repairCostOf(root, repairCost, order, keys, repairMinutes, rootSums);
  const first = checks
    .map((_, place) => place)
    .filter((place) => !isUsed[place])
    .map((place) => ({
      place,
      lookahead: lookahead(place, root, 1, setup),
      cost: checkCost(checks[place] as (typeof checks)[number], setup),
    }))
    .sort((a, b) => a.lookahead - b.lookahead || a.cost - b.cost || a.place - b.place);

  later = first.slice(0, limits.laterSteps).map((one) => one.place);
  let minutes = rootSums.minutes;
  let best = repairNow;
  const valued = first.map((one, rank): ValuedCheck => {
    if (rank >= limits.firstSteps) return { ...one, rollout: null };
    nodes = 0;
    const sums = { minutes: 0 };
    const rollout = stepThen(one.place, root, 1, setup, 0, sums);
    if (rollout < best) {
      best = rollout;
      minutes = sums.minutes;
    }
    return { ...one, rollout };
  });
  // Checks with a rollout come before the rest, which their lookahead put behind them.
  const rolled = valued.filter((one) => one.rollout !== null);
  rolled.sort((a, b) => (a.rollout as number) - (b.rollout as number) || a.place - b.place);
  return {
    repairNow,
    repairNowMinutes: rootSums.minutes,
    checks: [...rolled, ...valued.filter((one) => one.rollout === null)],
    minutes,
  };
}
