import { readFileSync } from 'node:fs';
import digamma from '@stdlib/math-base-special-digamma';
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import { expect, test } from 'vitest';
import type { EvidenceGroup } from '../../src/diagnosis/fit-concentration.ts';
import {
  fitConcentration,
  logDirichletMultinomial,
  nextChecks,
  rankCauses,
} from '../../src/diagnosis/index.ts';
import { informationOf, type PlanProblem } from '../../src/diagnosis/plan/plan-state.ts';
import { repairCostOf, repairOrder } from '../../src/diagnosis/plan/repair-order.ts';
import { dirichletIntervals, intervalsAfterReadings } from '../../src/diagnosis/share-intervals.ts';
import type { SymptomId } from '../../src/terms.ts';
import { book, cause, check, symptom } from '../unit/diagnosis/tiny-book.ts';

const reference = JSON.parse(readFileSync(new URL('data/diagnosis.json', import.meta.url), 'utf8'));
const limits = { floor: 0.5, ceiling: 500, fallback: 12 };

test('Dirichlet-multinomial probability of counts 1, 2, 3 under 3, 4, 5 (R extraDistr)', () => {
  expect(Math.exp(logDirichletMultinomial([1, 2, 3], [3, 4, 5]))).toBeCloseTo(0.08484162895927638, 14);
});

test('Dirichlet posterior of 727, 583, 137 under a uniform prior: means of BDA3 section 3.4', () => {
  const tiny = book({
    symptoms: [symptom('s', { a: 100 / 3, b: 100 / 3 }, 100 / 3)],
    causes: [cause('a'), cause('b')],
  });
  // Prior weight 12 instead of 3: same data, the means move by the pull of nine more even votes.
  const tally = [
    { symptomId: 's', causeId: 'a', modelId: null, familyId: null, concerns: 727, weight: 727e6 },
    { symptomId: 's', causeId: 'b', modelId: null, familyId: null, concerns: 583, weight: 583e6 },
    {
      symptomId: 's',
      causeId: '(not in the book)',
      modelId: null,
      familyId: null,
      concerns: 137,
      weight: 137e6,
    },
  ] as never;
  const ranking = rankCauses({ book: tiny, symptomId: 's' as SymptomId, tally });
  // (727 + 4) / (1447 + 12); BDA3 with prior 3 gives 0.5021, 0.4028, 0.0952.
  expect(ranking.causes[0]?.probability).toBeCloseTo(731 / 1459, 12);
  expect(Math.abs((ranking.causes[0]?.probability ?? 0) - 0.5021)).toBeLessThan(0.0015);
  expect(Math.abs((ranking.causes[1]?.probability ?? 0) - 0.4028)).toBeLessThan(0.0015);
  expect(Math.abs(ranking.unlisted - 0.0952)).toBeLessThan(0.0015);
});

test('beta posteriors: BDA3 section 2.4 (438, 544) and no failure in ten (1, 11)', () => {
  expect(betaQuantile(0.025, 438, 544)).toBeCloseTo(0.415, 3);
  expect(betaQuantile(0.975, 438, 544)).toBeCloseTo(0.477, 3);
  expect(betaQuantile(0.025, 1, 11)).toBeCloseTo(0.0023, 4);
  expect(betaQuantile(0.975, 1, 11)).toBeCloseTo(0.2849, 4);
  // The intervals shown are the 5 % and 95 % points of the same distributions; for Beta(1, b) by hand: 1 − (1 − p)^(1/b).
  const [first] = dirichletIntervals([1, 11]);
  expect(first?.low).toBeCloseTo(1 - 0.95 ** (1 / 11), 9);
  expect(first?.high).toBeCloseTo(1 - 0.05 ** (1 / 11), 9);
});

test('draws through an even likelihood agree with the beta quantiles', () => {
  const alphas = [8, 5, 3, 2];
  const exact = dirichletIntervals(alphas);
  const drawn = intervalsAfterReadings(alphas, [1, 1, 1, 1], 7);
  drawn.forEach((interval, place) => {
    expect(Math.abs(interval.low - (exact[place]?.low ?? 0))).toBeLessThan(0.05);
    expect(Math.abs(interval.high - (exact[place]?.high ?? 0))).toBeLessThan(0.05);
  });
  expect(intervalsAfterReadings(alphas, [1, 1, 1, 1], 7)).toEqual(drawn);
});

const groups: EvidenceGroup[] = [
  { weights: [8, 1, 1, 0], base: [0.4, 0.3, 0.2, 0.1], concerns: 10 },
  { weights: [2, 6, 1.5, 0], base: [0.4, 0.3, 0.2, 0.1], concerns: 10 },
  { weights: [3, 2, 6, 1], base: [0.35, 0.35, 0.2, 0.1], concerns: 12 },
  { weights: [1, 0, 0, 0.5], base: [0.4, 0.3, 0.2, 0.1], concerns: 2 },
];
const logLikelihood = (list: readonly EvidenceGroup[], concentration: number): number =>
  list.reduce(
    (sum, group) =>
      sum +
      logDirichletMultinomial(
        group.weights,
        Array.from(group.base, (share) => share * concentration),
      ),
    0,
  );

test("the fitted concentration is the likelihood's maximum by brute force, and Minka's fixed point", () => {
  const fitted = fitConcentration(groups, limits);
  let best = limits.floor;
  for (let step = 0; step <= 20_000; step++) {
    const tried = limits.floor * (limits.ceiling / limits.floor) ** (step / 20_000);
    if (logLikelihood(groups, tried) > logLikelihood(groups, best)) best = tried;
  }
  expect(fitted / best).toBeCloseTo(1, 3);
  // Minka 2000: s ← s Σ m (ψ(n + s m) − ψ(s m)) / Σ (ψ(N + s) − ψ(s)).
  let s = 10;
  for (let step = 0; step < 2000; step++) {
    let up = 0;
    let down = 0;
    for (const { weights, base } of groups) {
      const total = Array.from(weights).reduce((sum, weight) => sum + weight, 0);
      Array.from(base).forEach((share, k) => {
        up += share * (digamma((weights[k] as number) + s * share) - digamma(s * share));
      });
      down += digamma(total + s) - digamma(s);
    }
    s *= up / down;
  }
  expect(fitted / s).toBeCloseTo(1, 6);
});

test('too few groups take the default; equal groups the ceiling; groups apart the floor', () => {
  expect(fitConcentration(groups.slice(0, 2), limits)).toBe(12);
  expect(
    fitConcentration([...groups.slice(0, 2), { ...groups[3], concerns: 1 } as EvidenceGroup], limits),
  ).toBe(12);
  const same = { weights: [40, 30, 20, 10], base: [0.4, 0.3, 0.2, 0.1], concerns: 100 };
  expect(fitConcentration([same, same, same], limits)).toBe(500);
  const apart = (k: number) => ({ ...same, weights: [0, 0, 0, 0].map((_, place) => (place === k ? 50 : 0)) });
  expect(fitConcentration([apart(0), apart(1), apart(2), apart(0)], { ...limits, floor: 2 })).toBe(2);
});

test('repair order: the worked example of probability over cost, and all 120 orders', () => {
  const { p, cost, names, best_order, expected_cost } = reference.test_order.example;
  const order = repairOrder(p, cost).map((place) => names[place]);
  expect(order).toEqual(best_order);
  const scratch = Int32Array.from([0, 1, 2, 3, 4]);
  expect(repairCostOf(p, cost, scratch, new Float64Array(5))).toBeCloseTo(expected_cost, 9);
  const costs = permutations([0, 1, 2, 3, 4]).map((places) => {
    let left = 1;
    let sum = 0;
    for (const place of places) {
      sum += left * cost[place];
      left -= p[place];
    }
    return sum;
  });
  expect(costs.length).toBe(120);
  expect(Math.min(...costs)).toBeCloseTo(expected_cost, 9);
});

test('information of the 14-row tennis table (Quinlan, Mitchell) and of the restaurant table (Russell and Norvig)', () => {
  const { rows, columns, gain_bits } = reference.information_gain[0];
  for (const [attribute, gain] of Object.entries(gain_bits as Record<string, number>)) {
    const column = columns.indexOf(attribute);
    const values = [...new Set(rows.map((row: string[]) => row[column]))] as string[];
    const counted = (answer: string): string[][] => rows.filter((row: string[]) => row[4] === answer);
    const chances = values.flatMap((value) =>
      ['Yes', 'No'].map(
        (answer) => counted(answer).filter((row) => row[column] === value).length / counted(answer).length,
      ),
    );
    expect(bits(chances, values.length, [9 / 14, 5 / 14])).toBeCloseTo(gain, 4);
  }
  const { gain_bits: restaurant } = reference.information_gain[1];
  // Patrons: none 0+/2−, some 4+/0−, full 2+/4−; type: even everywhere.
  expect(bits([0, 2 / 6, 4 / 6, 0, 2 / 6, 4 / 6], 3, [0.5, 0.5])).toBeCloseTo(restaurant.Patrons, 4);
  expect(bits([1 / 6, 1 / 6, 1 / 6, 1 / 6, 2 / 6, 2 / 6, 2 / 6, 2 / 6], 4, [0.5, 0.5])).toBeCloseTo(0, 12);
});

/** The polybox (de Kleer and Williams 1987) as a book: which output each faulty box makes wrong. */
const polybox = book({
  symptoms: [symptom('wrong-output', { A1: 19.5, A2: 19.5, M1: 19.5, M2: 19.5, M3: 19.5 }, 2.5)],
  causes: ['A1', 'A2', 'M1', 'M2', 'M3'].map((id) => cause(id, { componentId: id })),
  checks: [
    check(
      'F',
      { right: 0.99, wrong: 0.01 },
      { A1: { wrong: 0.99 }, M1: { wrong: 0.99 }, M2: { wrong: 0.99 } },
    ),
    check(
      'G',
      { right: 0.99, wrong: 0.01 },
      { A2: { wrong: 0.99 }, M3: { wrong: 0.99 }, M2: { wrong: 0.99 } },
    ),
    check('x', { right: 0.99, wrong: 0.01 }, { M1: { wrong: 0.99 } }),
    check('y', { right: 0.99, wrong: 0.01 }, { M2: { wrong: 0.99 } }),
    check('z', { right: 0.99, wrong: 0.01 }, { M3: { wrong: 0.99 } }),
  ],
});
const wrongOutput = 'wrong-output' as SymptomId;
const boxes = (outcomes: Record<string, string>) => {
  const readings = Object.entries(outcomes).map(([checkId, outcome]) => ({ checkId, outcome }));
  return {
    ranking: rankCauses({ book: polybox, symptomId: wrongOutput, tally: [], readings }),
    plan: nextChecks({
      book: polybox,
      symptomId: wrongOutput,
      tally: [],
      readings,
      laborPerMinute: 1,
      partPrice: () => null,
    }),
  };
};

test('polybox, F wrong and G right: A1 and M1 alike, x decides (de Kleer and Williams 1987)', () => {
  const { ranking, plan } = boxes({ F: 'wrong', G: 'right' });
  const leaders = ranking.causes.slice(0, 2);
  expect(leaders.map((one) => one.causeId).sort()).toEqual(['A1', 'M1']);
  expect(leaders[0]?.probability).toBeCloseTo(leaders[1]?.probability ?? 0, 12);
  // 0.4976 each there, where M2, M3 and A2 keep 2 to 1.5 % through double faults.
  expect(Math.abs((leaders[0]?.probability ?? 0) - 0.4976)).toBeLessThan(0.03);
  expect(ranking.causes[2]?.probability).toBeLessThan(0.02);
  expect(plan.checks[0]?.checkId).toBe('x');
});

test('polybox after x: the single diagnosis stands; both outputs wrong: M2', () => {
  expect(boxes({ F: 'wrong', G: 'right', x: 'wrong' }).ranking.causes[0]).toMatchObject({ causeId: 'M1' });
  expect(boxes({ F: 'wrong', G: 'right', x: 'right' }).ranking.causes[0]).toMatchObject({ causeId: 'A1' });
  const both = boxes({ F: 'wrong', G: 'wrong' }).ranking;
  expect(both.causes[0]).toMatchObject({ causeId: 'M2' });
  expect(both.causes[0]?.probability).toBeGreaterThan(0.9);
});

test('polybox with both outputs wrong and y right: no single box explains it, the double faults of the paper are left', () => {
  const { ranking } = boxes({ F: 'wrong', G: 'wrong', y: 'right' });
  expect(ranking.contradiction).toBeDefined();
  const pairs =
    boxes({ F: 'wrong', G: 'wrong', y: 'right' }).ranking.pairs?.map((pair) => pair.causeIds.join(' ')) ?? [];
  const published = reference.polybox.cases[4].minimal_diagnoses
    .filter((boxesAtFault: string[]) => boxesAtFault.length === 2)
    .map((boxesAtFault: string[]) => boxesAtFault.join(' '));
  expect(pairs.length).toBe(3);
  for (const pair of pairs) expect(published).toContain(pair);
});

function bits(chances: number[], outcomes: number, belief: number[]): number {
  const width = belief.length;
  const problem: PlanProblem = {
    width,
    repairCost: new Float64Array(width).fill(1),
    repairMinutes: new Float64Array(width).fill(1),
    checks: [],
  };
  const planned = {
    cost: 1,
    leastCost: 1,
    savings: [],
    extras: [],
    sets: 0,
    outcomes,
    chances: Float64Array.from(chances),
  };
  return informationOf(problem, planned, belief);
}

function permutations(places: readonly number[]): number[][] {
  if (places.length <= 1) return [[...places]];
  return places.flatMap((first) =>
    permutations(places.filter((place) => place !== first)).map((rest) => [first, ...rest]),
  );
}
