/**
 * Expected minutes to the proven cause, over simulated scooters with faults drawn from the priors: our plan against the
 * optimal policy (dynamic programming over all outcomes), one-step lookahead alone, the fixed order of a printed chart,
 * and repairing the most frequent cause first; then the same with one reading in ten wrong. All expectations are exact
 * (every branch is followed), so nothing is left to a lucky draw; only the instances are drawn, with a printed seed.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import mt19937 from '@stdlib/random-base-mt19937';
import { diagnose } from '../../src/diagnosis/diagnose.ts';
import { buildProblem, candidateChecks } from '../../src/diagnosis/plan/build-problem.ts';
import {
  checkCost,
  informationOf,
  type PlanCheck,
  type PlanProblem,
} from '../../src/diagnosis/plan/plan-state.ts';
import { policyLimits, valueChecks } from '../../src/diagnosis/plan/policy.ts';
import { repairOrder } from '../../src/diagnosis/plan/repair-order.ts';
import { buildBook, type HandbookFile, readHandbook } from '../../src/handbook/index.ts';
import type { SymptomId } from '../../src/terms.ts';

const seed = 20_251_125;
const mostCauses = 12;
const mostChecks = 7;
const wrongReadings = 0.1;

/** What to do next in a state: the place of a check, or −1 to repair in order. */
type Policy = (belief: Float64Array, done: ReadonlySet<number>, setup: number, anyOdd: boolean) => number;

interface Instance {
  readonly name: string;
  readonly problem: PlanProblem;
  readonly prior: Float64Array;
}

interface Ratios {
  readonly mean: number;
  readonly worst: number;
}

export function run(): unknown {
  const instances = [...randomInstances(12), ...handbookInstances()];
  const rows = instances.map((instance) => measure(instance));
  const ratios = (field: keyof (typeof rows)[number]): Ratios => {
    const list = rows.map((row) => row[field] as number);
    return {
      mean: round(list.reduce((sum, one) => sum + one, 0) / list.length),
      worst: round(Math.max(...list)),
    };
  };
  return {
    bench: 'planner',
    seed,
    instances: rows.length,
    causes: `up to ${mostCauses}, and "not in the book"`,
    checks: `up to ${mostChecks}`,
    ratioToOptimal: {
      plan: ratios('plan'),
      oneStepLookahead: ratios('lookahead'),
      printedChart: ratios('chart'),
      mostFrequentFirst: ratios('frequent'),
    },
    /** The repair of the true cause, which no policy can save, taken off on both sides. */
    ratioOfAvoidableMinutes: {
      plan: ratios('planAvoidable'),
      oneStepLookahead: ratios('lookaheadAvoidable'),
    },
    ratioToOptimalWithWrongReadings: {
      plan: ratios('planWrong'),
      oneStepLookahead: ratios('lookaheadWrong'),
      printedChart: ratios('chartWrong'),
      mostFrequentFirst: ratios('frequentWrong'),
    },
    expectedMinutes: rows.map((row) => ({
      instance: row.name,
      optimal: round(row.optimal),
      plan: round(row.optimal * row.plan),
    })),
  };
}

function measure(instance: Instance) {
  const { problem, prior } = instance;
  const slipped = withWrongReadings(problem, wrongReadings);
  const plan = remembered(planPolicy(problem));
  const lookahead = remembered(lookaheadPolicy(problem));
  const chart = chartPolicy(problem);
  const cost = (policy: Policy, truth: PlanProblem) => expectedCost(problem, truth, prior, policy);
  const frequent = frequentFirst(problem, prior);
  const optimal = optimalCost(problem, prior);
  const optimalWrong = optimalCost(slipped, prior);
  const unavoidable = prior.reduce((sum, one, k) => sum + one * (problem.repairCost[k] as number), 0);
  const avoidable = (total: number): number => (total - unavoidable) / (optimal - unavoidable);
  return {
    name: instance.name,
    optimal,
    planAvoidable: avoidable(cost(plan, problem)),
    lookaheadAvoidable: avoidable(cost(lookahead, problem)),
    plan: cost(plan, problem) / optimal,
    lookahead: cost(lookahead, problem) / optimal,
    chart: cost(chart, problem) / optimal,
    frequent: frequent / optimal,
    planWrong: cost(plan, slipped) / optimalWrong,
    lookaheadWrong: cost(lookahead, slipped) / optimalWrong,
    chartWrong: cost(chart, slipped) / optimalWrong,
    frequentWrong: frequent / optimalWrong,
  };
}

/** The same decision for the same state, asked once. */
function remembered(policy: Policy): Policy {
  const known = new Map<string, number>();
  return (belief, done, setup, anyOdd) => {
    const key = `${[...done].sort((a, b) => a - b).join()}|${Array.from(belief, (one) => one.toPrecision(9)).join()}`;
    const kept = known.get(key);
    if (kept !== undefined) return kept;
    const choice = policy(belief, done, setup, anyOdd);
    known.set(key, choice);
    return choice;
  };
}

function planPolicy(problem: PlanProblem): Policy {
  return (belief, done, setup) => {
    const { repairNow, checks } = valueChecks(problem, belief, setup, done);
    const best = checks[0];
    return best && Math.min(best.lookahead, best.rollout ?? Number.POSITIVE_INFINITY) < repairNow - 1e-9
      ? best.place
      : -1;
  };
}

function lookaheadPolicy(problem: PlanProblem): Policy {
  return (belief, done, setup) => {
    const { repairNow, checks } = valueChecks(problem, belief, setup, done, {
      ...policyLimits,
      firstSteps: 0,
    });
    const best = checks[0];
    return best && best.lookahead < repairNow - 1e-9 ? best.place : -1;
  };
}

/** A printed chart: its checks in order until one is not as on a healthy machine, then repair by what is known. */
function chartPolicy(problem: PlanProblem): Policy {
  return (_belief, done, _setup, anyOdd) => (anyOdd || done.size >= problem.checks.length ? -1 : done.size);
}

/** No checks at all: repair the most frequent cause, then the next. */
function frequentFirst(problem: PlanProblem, prior: Float64Array): number {
  const order = Array.from(prior.keys()).sort((a, b) => (prior[b] as number) - (prior[a] as number));
  return costOfOrder(problem, order, prior);
}

function costOfOrder(problem: PlanProblem, order: readonly number[], truth: Float64Array): number {
  let left = truth.reduce((sum, one) => sum + one, 0);
  let cost = 0;
  for (const place of order) {
    cost += left * (problem.repairCost[place] as number);
    left -= truth[place] as number;
  }
  return cost;
}

/** Exact expected cost of a policy that believes `believed` while readings come from `truth`. */
function expectedCost(
  believed: PlanProblem,
  truth: PlanProblem,
  prior: Float64Array,
  policy: Policy,
): number {
  const walk = (
    belief: Float64Array,
    weights: Float64Array,
    done: ReadonlySet<number>,
    setup: number,
    anyOdd: boolean,
  ): number => {
    const mass = weights.reduce((sum, one) => sum + one, 0);
    if (mass <= 0) return 0;
    const total = belief.reduce((sum, one) => sum + one, 0);
    const normal = belief.map((one) => one / total);
    const choice = mass < 1e-7 ? -1 : policy(normal, done, setup, anyOdd);
    if (choice < 0) return costOfOrder(believed, repairOrder(normal, believed.repairCost), weights);
    const check = believed.checks[choice] as PlanCheck;
    const real = truth.checks[choice] as PlanCheck;
    let cost = mass * checkCost(check, setup);
    for (let outcome = 0; outcome < check.outcomes; outcome++) {
      const row = outcome * believed.width;
      const nextBelief = belief.map((one, k) => one * (check.chances[row + k] as number));
      const nextWeights = weights.map((one, k) => one * (real.chances[row + k] as number));
      cost += walk(
        nextBelief,
        nextWeights,
        new Set([...done, choice]),
        setup | check.sets,
        anyOdd || outcome > 0,
      );
    }
    return cost;
  };
  return walk(prior, prior, new Set(), 0, false);
}

/** The least expected cost of all policies: check in any order with any stopping, then repair in the best order. */
function optimalCost(problem: PlanProblem, prior: Float64Array): number {
  const { checks, width } = problem;
  const radix: number[] = [];
  let product = 1;
  for (const check of checks) {
    radix.push(product);
    product *= check.outcomes + 1;
  }
  const values = new Float64Array(product).fill(Number.NaN);
  const solve = (state: number, weights: Float64Array, done: number, setup: number): number => {
    const kept = values[state] as number;
    if (!Number.isNaN(kept)) return kept;
    const mass = weights.reduce((sum, one) => sum + one, 0);
    let best = costOfOrder(problem, repairOrder(weights, problem.repairCost), weights);
    for (let place = 0; place < checks.length; place++) {
      if (done & (1 << place)) continue;
      const check = checks[place] as PlanCheck;
      let cost = mass * checkCost(check, setup);
      for (let outcome = 0; outcome < check.outcomes && cost < best; outcome++) {
        const row = outcome * width;
        const next = weights.map((one, k) => one * (check.chances[row + k] as number));
        cost += solve(
          state + (radix[place] as number) * (outcome + 1),
          next,
          done | (1 << place),
          setup | check.sets,
        );
      }
      if (cost < best) best = cost;
    }
    values[state] = best;
    return best;
  };
  return solve(0, prior, 0, 0);
}

/** With chance `rate` a reading shows one of the other outcomes. */
function withWrongReadings(problem: PlanProblem, rate: number): PlanProblem {
  return {
    ...problem,
    checks: problem.checks.map((check) => ({
      ...check,
      chances: check.chances.map(
        (chance) => (1 - rate) * chance + (rate * (1 - chance)) / (check.outcomes - 1),
      ),
    })),
  };
}

function randomInstances(count: number): Instance[] {
  const twister = mt19937.factory({ seed });
  const draw = (): number => twister() / 4_294_967_296;
  const between = (low: number, high: number): number => low + (high - low) * draw();
  return Array.from({ length: count }, (_, number) => {
    const width = mostCauses + 1;
    const weights = Array.from({ length: width }, () => between(0.2, 1) ** 3);
    const total = weights.reduce((sum, one) => sum + one, 0);
    const checks = Array.from({ length: mostChecks }, (): PlanCheck => {
      const outcomes = draw() < 0.6 ? 2 : 3;
      const chances = new Float64Array(outcomes * width);
      for (let k = 0; k < width; k++) {
        const sees = k < width - 1 && draw() < 0.35;
        const shown = sees ? 1 + Math.floor(draw() * (outcomes - 1)) : 0;
        const sure = k === width - 1 ? 0.6 : between(0.8, 0.98);
        for (let o = 0; o < outcomes; o++)
          chances[o * width + k] = o === shown ? sure : (1 - sure) / (outcomes - 1);
      }
      const cost = between(1, 10);
      const behindPanel = draw() < 0.4;
      return {
        cost,
        leastCost: 0.3 * cost,
        savings: behindPanel ? [{ bit: 1, minutes: 2 }] : [],
        extras: [],
        sets: behindPanel ? 1 : 0,
        outcomes,
        chances,
      };
    });
    const repairCost = Float64Array.from({ length: width }, (_, k) =>
      k === width - 1 ? 120 : between(5, 60) + (draw() < 0.5 ? between(5, 90) : 0),
    );
    return {
      name: `random ${number + 1}`,
      problem: { width, repairCost, repairMinutes: repairCost, checks },
      prior: Float64Array.from(weights, (one) => one / total),
    };
  });
}

/** The symptoms of the shipped handbook with at least four useful checks, cut to their likeliest causes and most telling checks. */
function handbookInstances(): Instance[] {
  const { entries } = readHandbook(handbookFiles(new URL('../../seed/handbook/', import.meta.url).pathname));
  const { book } = buildBook(entries, 'bench');
  const instances: Instance[] = [];
  for (const symptom of book.symptoms.values()) {
    if (!['starting', 'charging', 'power'].includes(symptom.system)) continue;
    const priors = [...symptom.priors].sort((a, b) => b.of100 - a.of100).slice(0, mostCauses);
    const cut = { ...book, symptoms: new Map([[symptom.id, { ...symptom, priors }]]) };
    const diagnosis = diagnose({ book: cut, symptomId: symptom.id as SymptomId, tally: [] });
    const costs = { laborPerMinute: 1, partPrice: () => null };
    const all = buildProblem(diagnosis, candidateChecks(diagnosis, new Set()), costs, new Set(), new Map());
    const prior = diagnosis.probabilities;
    const checks = all.problem.checks
      .filter((check) => check.outcomes <= 4)
      .map((check) => ({ check, worth: informationOf(all.problem, check, prior) / check.cost }))
      .sort((a, b) => b.worth - a.worth)
      .slice(0, mostChecks)
      .map(({ check }) => check);
    if (checks.length >= 4) instances.push({ name: symptom.id, problem: { ...all.problem, checks }, prior });
  }
  return instances.slice(0, 12);
}

function handbookFiles(root: string): HandbookFile[] {
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.yaml'))
    .sort()
    .map((path) => ({ path: path.replaceAll('\\', '/'), text: readFileSync(join(root, path), 'utf8') }));
}

const round = (value: number): number => Math.round(value * 1000) / 1000;
