import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import {
  binomialInterval,
  cChart,
  compareRates,
  falseDiscovery,
  fisherAtLeast,
  kaplanMeier,
  laplaceTrend,
  lastsBeyond,
  logRank,
  poissonInterval,
  powerLaw,
  reorderPoint,
  uChart,
  weibullFit,
} from '../../src/ledger/index.ts';

const file = (name: string): string => readFileSync(join(import.meta.dirname, 'data', name), 'utf8');
const rows = (name: string): Record<string, string>[] => parse(file(name), { columns: true, bom: true });
const published = JSON.parse(file('reliability.json'));
const byId = (list: { id: string }[], id: string) => {
  const found = list.find((one) => one.id === id);
  if (!found) throw new Error(`no example ${id}`);
  // Examples differ in what they print; each check names the fields it uses.
  return found as unknown as Record<string, never>;
};
const summed = (steps: readonly number[]): number[] => {
  let at = 0;
  return steps.map((step) => {
    at += step;
    return at;
  });
};

describe('exact intervals', () => {
  // Garwood 1936; table in tests/reference/data/garwood.csv names how each value was had.
  it.each(rows('garwood.csv'))('of a count of $n', (row) => {
    const count = Number(row.n);
    const at95 = poissonInterval(count, 0.95);
    const at90 = poissonInterval(count, 0.9);
    expect(at95.low).toBeCloseTo(Number(row.lower95), 3);
    expect(at95.high).toBeCloseTo(Number(row.upper95), 3);
    expect(at90.low).toBeCloseTo(Number(row.lower90), 3);
    expect(at90.high).toBeCloseTo(Number(row.upper90), 3);
  });

  // R packages DescTools and exactci, as stored in the tests of statsmodels; R documentation of poisson.test.
  it('of a rate', () => {
    for (const example of published.rate_comparison) {
      if (!example.exact95) continue;
      const { low, high } = poissonInterval(example.events);
      expect(low / example.exposure).toBeCloseTo(example.exact95[0], 6);
      expect(high / example.exposure).toBeCloseTo(example.exact95[1], 6);
    }
  });

  // R package binom and binom.test, as stored in the tests of statsmodels and SciPy.
  it.each(rows('binomial-ci.csv').filter((row) => row.clopper_pearson_low95 !== ''))('of $k in $n', (row) => {
    const { low, high } = binomialInterval(Number(row.k), Number(row.n));
    expect(low).toBeCloseTo(Number(row.clopper_pearson_low95), 6);
    expect(high).toBeCloseTo(Number(row.clopper_pearson_high95), 6);
  });
});

describe('comparisons', () => {
  // Gu et al., example of the R package exactci, as stored in the tests of statsmodels.
  it('of two rates', () => {
    const [example] = published.rate_comparison;
    const at = (place: number) => ({ events: example.events[place], exposure: example.exposure[place] });
    const found = compareRates(at(0), at(1));
    expect(found.ratio).toBeCloseTo(example.ratio, 8);
    expect(found.p).toBeCloseTo(example.p_two_sided_exact_conditional, 9);
    expect(found.low).toBeCloseTo(example.ci95_central[0], 6);
    expect(found.high).toBeCloseTo(example.ci95_central[1], 6);
  });

  // Fisher's tea tasting (The Design of Experiments, 1935, chapter 2): 3 of 4 right has the chance 17/70, all 4 1/70.
  it("of two shares, by Fisher's tea tasting", () => {
    expect(fisherAtLeast(3, 4, 1, 4)).toBeCloseTo(17 / 70, 12);
    expect(fisherAtLeast(4, 4, 0, 4)).toBeCloseTo(1 / 70, 12);
  });

  // Benjamini & Hochberg 1995, section 4.1 (15 tests of a heart study; values from memory): at 5 % the first four are found.
  it('of many things at once', () => {
    const chances = [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
      0.759, 1,
    ];
    const found = falseDiscovery(chances);
    expect(found.filter((each) => each <= 0.05)).toHaveLength(4);
    expect(found[3]).toBeCloseTo((0.0095 * 15) / 4, 12);
    // The same in any order.
    expect(falseDiscovery([...chances].reverse())).toEqual([...found].reverse());
  });
});

describe('control charts', () => {
  // NIST/SEMATECH e-Handbook 6.3.3.1. The handbook prints whole numbers; a point on the limit is inside.
  it('c-chart of the handbook', () => {
    const example = byId(published.count_charts, 'nist-c-chart') as unknown as {
      counts: number[];
      out_of_control: number[];
    };
    const chart = cChart(example.counts);
    expect(Math.round(chart.center)).toBe(16);
    expect(Math.round(chart.points[0]?.high ?? 0)).toBe(28);
    expect(Math.round(chart.points[0]?.low ?? 0)).toBe(4);
    const out = chart.points.flatMap((point, place) => (point.isOut ? [place + 1] : []));
    expect(out).toEqual(example.out_of_control);
  });

  // Montgomery, Introduction to Statistical Quality Control; data set of the R package qcc.
  it('c-chart of circuit boards', () => {
    const example = byId(published.count_charts, 'montgomery-circuit-c') as unknown as {
      counts: number[];
      center: number;
      ucl: number;
      lcl: number;
      out_of_control: number[];
    };
    const chart = cChart(example.counts);
    expect(chart.center).toBeCloseTo(example.center, 4);
    expect(chart.points[0]?.high).toBeCloseTo(example.ucl, 4);
    expect(chart.points[0]?.low).toBeCloseTo(example.lcl, 4);
    expect(chart.points.flatMap((point, place) => (point.isOut ? [place + 1] : []))).toEqual(
      example.out_of_control,
    );
  });

  // Data set dyedcloth of the R package qcc; SAS sample library for the second (its center derived).
  it.each(['dyed-cloth-u', 'fabric-u'])('u-chart %s', (id) => {
    const example = byId(published.count_charts, id) as unknown as {
      counts: number[];
      sizes: number[];
      center: number;
    };
    const chart = uChart(example.counts, example.sizes);
    expect(chart.center).toBeCloseTo(example.center, 5);
    if (id !== 'dyed-cloth-u') return;
    const at = (size: number) => chart.points[example.sizes.indexOf(size)];
    expect(at(8)?.high).toBeCloseTo(2.6603, 4);
    expect(at(8)?.low).toBeCloseTo(0.147, 4);
    expect(at(13)?.high).toBeCloseTo(2.3895, 4);
  });
});

describe('trends', () => {
  // NIST/SEMATECH e-Handbook 8.2.2.3, 8.2.3.4 and 8.4.5.
  it('of the improvement test in the handbook', () => {
    const example = byId(published.trend_tests, 'nist-case-1') as unknown as {
      failure_times: number[];
      observed_to: number;
      laplace_z: number;
      mil_hdbk_chi2: number;
      mil_hdbk_df: number;
      power_law: { beta_mle: number };
    };
    const watched = { times: example.failure_times, until: example.observed_to };
    expect(laplaceTrend(watched)?.z).toBeCloseTo(example.laplace_z, 5);
    const fit = powerLaw(watched);
    expect(fit?.shape).toBeCloseTo(example.power_law.beta_mle, 6);
    expect(fit?.statistic).toBeCloseTo(example.mil_hdbk_chi2, 3);
    expect(fit?.degrees).toBe(example.mil_hdbk_df);
  });

  // Modarres, Kaminskiy, Krivtsov, Reliability Engineering and Risk Analysis, example 5.11: ends with a failure.
  it('of an aging system that was watched to its last failure', () => {
    const example = byId(published.trend_tests, 'modarres-5-11') as unknown as {
      interarrival: number[];
      laplace_u: number;
      power_law: { beta: number; lambda_: number };
    };
    const times = summed(example.interarrival);
    expect(laplaceTrend({ times })?.z).toBeCloseTo(example.laplace_u, 3);
    expect(powerLaw({ times })?.shape).toBeCloseTo(example.power_law.beta, 3);
    expect(powerLaw({ times })?.scale).toBeCloseTo(example.power_law.lambda_, 8);
  });

  // MIL-HDBK-189 (1981), Appendix C.
  it('of the military handbook', () => {
    const example = byId(published.trend_tests, 'mil-hdbk-189-app-c') as unknown as {
      failure_times: number[];
      observed_to: number;
      power_law: { beta_mle: number; lambda_mle: number; intensity_at_end: number };
    };
    const fit = powerLaw({ times: example.failure_times, until: example.observed_to });
    expect(fit?.shape).toBeCloseTo(example.power_law.beta_mle, 6);
    expect(fit?.scale).toBeCloseTo(example.power_law.lambda_mle, 6);
    expect(fit?.rateNow).toBeCloseTo(example.power_law.intensity_at_end, 6);
  });

  // Textbook data of 22 failures as in the documentation of the reliability package.
  it('of a growing system', () => {
    const example = byId(published.trend_tests, 'system-growth') as unknown as {
      failure_times: number[];
      power_law: { beta: number; lambda_: number };
    };
    const fit = powerLaw({ times: example.failure_times });
    expect(fit?.shape).toBeCloseTo(example.power_law.beta, 4);
    expect(fit?.scale).toBeCloseTo(example.power_law.lambda_, 4);
  });
});

describe('lifetimes', () => {
  const livesOf = (times: number[], event: number[]) =>
    times.map((time, place) => ({ time, isEvent: event[place] === 1 }));

  // Textbook and Boston University examples as stored in the tests of SciPy.
  it('Kaplan–Meier with and without ties', () => {
    for (const example of published.kaplan_meier) {
      const times = (example.unique_sorted_times ?? example.times) as number[] | undefined;
      const survival = (example.survival_at_sorted_times ?? example.survival) as number[] | undefined;
      if (!times || !survival || !example.event || example.event_times) continue;
      const steps = kaplanMeier(livesOf(example.times, example.event));
      const at = example.unique_sorted_times ?? [...new Set(example.times as number[])].sort((a, b) => a - b);
      // Printed to three places.
      for (const [place, value] of survival.entries())
        expect(Math.abs(lastsBeyond(steps, at[place]) - value)).toBeLessThan(0.0006);
    }
  });

  // R survival::survfit as stored in the tests of statsmodels.
  it("Greenwood's error", () => {
    const example = published.kaplan_meier.find((one: { se?: number[] }) => one.se);
    const steps = kaplanMeier(livesOf(example.times, example.event));
    expect(steps.map((step) => step.time)).toEqual(example.event_times);
    expect(steps.map((step) => step.atRisk)).toEqual(example.at_risk);
    for (const [place, step] of steps.entries()) {
      expect(step.lasts).toBeCloseTo(example.survival[place], 6);
      if (example.se[place] === null) expect(step.error).toBeNull();
      else expect(step.error).toBeCloseTo(example.se[place], 6);
    }
  });

  // Documentation of the reliability package, from SAE 1999-01-3220.
  it('miles to failure', () => {
    const example = published.kaplan_meier.find((one: { failures?: number[] }) => one.failures);
    const steps = kaplanMeier([
      ...example.failures.map((time: number) => ({ time, isEvent: true })),
      ...example.censored.map((time: number) => ({ time, isEvent: false })),
    ]);
    expect(steps).toHaveLength(example.failures.length);
    for (const [place, step] of steps.entries())
      expect(step.lasts).toBeCloseTo(example.survival_after_failure[place], 6);
  });

  // NIST/SEMATECH e-Handbook 8.4.1.3.
  it('Weibull with survivors', () => {
    const { weibull } = published;
    const fit = weibullFit([
      ...weibull.failures.map((time: number) => ({ time, isEvent: true })),
      ...Array.from({ length: weibull.censored_at_500 }, () => ({ time: 500, isEvent: false })),
    ]);
    expect(fit?.shape).toBeCloseTo(weibull.shape, 4);
    expect(fit?.scale).toBeCloseTo(weibull.scale, 2);
    expect(fit?.logLikelihood).toBeCloseTo(weibull.loglik, 3);
  });

  // Freireich et al. 1963, remission of leukemia in weeks, as printed in most textbooks (values from memory):
  // log-rank chi-squared 16.79, 9 relapses against 19.25 expected under the drug.
  it('log-rank of two groups', () => {
    const drug = [6, 6, 6, 7, 10, 13, 16, 22, 23].map((time) => ({ time, isEvent: true }));
    const running = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map((time) => ({ time, isEvent: false }));
    const placebo = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23].map((time) => ({
      time,
      isEvent: true,
    }));
    const found = logRank([...drug, ...running], placebo);
    expect(found?.seen).toBe(9);
    expect(found?.expected).toBeCloseTo(19.25, 2);
    expect(found?.statistic).toBeCloseTo(16.79, 2);
  });
});

describe('what to keep', () => {
  // Poisson tables: a mean of 4 is met with 8 on the shelf in 97.9 %, with 7 in 94.9 % (value from memory, recomputed).
  it('Poisson demand', () => {
    const demand = { mean: 4, variance: 4, kind: 'poisson' as const };
    expect(reorderPoint(demand, 0.95)).toBe(8);
    expect(reorderPoint(demand, 0.94)).toBe(7);
    expect(reorderPoint({ ...demand, mean: 0 }, 0.99)).toBe(0);
  });

  // With size 1 a negative binomial is geometric: at least k + 1 has the chance (1 − p)^(k + 1); by hand.
  it('scattering demand', () => {
    const demand = { mean: 3, variance: 12, kind: 'negative-binomial' as const };
    expect(reorderPoint(demand, 0.95)).toBe(Math.ceil(Math.log(0.05) / Math.log(0.75)) - 1);
  });
});
