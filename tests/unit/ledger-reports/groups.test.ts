import { describe, expect, it } from 'vitest';
import {
  accuracyOf,
  ageBand,
  comebackGroups,
  groupWords,
  kaplanMeier,
  laplaceTrend,
  livesWithout,
  median,
  mileageBandWords,
  monthAt,
  monthSeries,
  monthsWords,
  powerLaw,
  type Ranked,
  type RepairGroup,
  rateOf,
  recurringGroups,
  shelfAdvice,
  sumIntoGroups,
  weibullFit,
} from '../../../src/ledger/index.ts';

const group = (ids: string[], repairs: number, didNotHold: number): RepairGroup => ({
  ids,
  repairs,
  didNotHold,
  wrongDiagnosis: 0,
  inDoubt: 0,
});

describe('recurring groups', () => {
  const none = { concerns: 0, visits: 0 };

  it('stand from the most to the fewest with the line of the sums', () => {
    const groups = recurringGroups([
      { key: 'b', concerns: 10, visits: 100, before: none },
      { key: 'a', concerns: 30, visits: 100, before: none },
    ]);
    expect(groups.map((group) => [group.key, group.share, group.cumulative])).toEqual([
      ['a', 0.75, 0.75],
      ['b', 0.25, 1],
    ]);
    expect(groups[0]?.change).toBeNull();
  });

  it('have no rate where the numbers are small', () => {
    expect(rateOf(4, 100)).toBeNull();
    expect(rateOf(5, 19)).toBeNull();
    // 5 events have the exact limits 1.6235 and 11.6683 (Garwood 1936).
    const rate = rateOf(5, 20);
    expect(rate?.per100).toBe(25);
    expect(rate?.low).toBeCloseTo(5 * 1.6235, 2);
    expect(rate?.high).toBeCloseTo(5 * 11.6683, 2);
  });

  it('without anything are none, and a group that is gone still shows its past', () => {
    expect(recurringGroups([])).toEqual([]);
    const [gone] = recurringGroups([
      { key: 'gone', concerns: 0, visits: 100, before: { concerns: 12, visits: 100 } },
    ]);
    expect(gone).toMatchObject({ share: 0, cumulative: 0, rate: null });
    expect(gone?.change?.ratio).toBe(0);
    expect(gone?.change?.p).toBeLessThan(0.01);
  });

  it('count a concern once for a component with two of its causes', () => {
    const sums = sumIntoGroups(
      [
        { key: 'coil-open', concerns: 3 },
        { key: 'contact-open', concerns: 2 },
        { key: null, concerns: 1 },
      ],
      [
        ['coil-open', 'contact-open'],
        ['coil-open', null],
      ],
      (cause) => (cause === null ? '' : 'relay'),
    );
    expect(Object.fromEntries(sums)).toEqual({ relay: 4, '': 1 });
  });
});

describe('comebacks', () => {
  const groups = [
    group(['drive-belt', 'Pinwheel'], 22, 8),
    group(['drive-belt', 'Millrace'], 62, 2),
    group(['battery', 'Pinwheel'], 90, 0),
  ];
  const all = { repairs: 174, didNotHold: 10 };

  it('compare a supplier with the same kind of part from others', () => {
    const [belt] = comebackGroups(groups, 'part-kind-and-supplier', all);
    expect(belt).toMatchObject({
      ids: ['drive-belt', 'Pinwheel'],
      repairs: 22,
      didNotHold: 8,
      rest: { repairs: 62, didNotHold: 2 },
    });
    expect(belt?.falseShare).toBeLessThan(0.01);
    // The hypergeometric tail summed as exact fractions, apart from this program.
    expect(belt?.p).toBeCloseTo(0.0002304113695030868, 12);
  });

  it('show few repairs without a share, and nothing of parts without a supplier', () => {
    const few = comebackGroups([group(['horn'], 1, 1), group([''], 40, 3)], 'part-kind', {
      repairs: 41,
      didNotHold: 4,
    });
    expect(few).toHaveLength(1);
    expect(few[0]).toMatchObject({ repairs: 1, didNotHold: 1, rate: null, falseShare: 1 });
    expect(comebackGroups([], 'supplier', { repairs: 0, didNotHold: 0 })).toEqual([]);
    // A cause that the book lacks is one, too.
    expect(comebackGroups([group([''], 40, 3)], 'cause', { repairs: 40, didNotHold: 3 })).toHaveLength(1);
  });

  it('of a chosen part and the rest add up to all', () => {
    const some = [
      { time: 20, isEvent: true, count: 3 },
      { time: 90, isEvent: false, count: 50 },
    ];
    const whole = [...some, { time: 90, isEvent: false, count: 7 }, { time: 20, isEvent: true }];
    expect(livesWithout(whole, some)).toEqual([
      { time: 20, isEvent: true, count: 1 },
      { time: 90, isEvent: false, count: 7 },
    ]);
    expect(kaplanMeier(whole)[0]).toMatchObject({ time: 20, atRisk: 61, events: 4 });
    expect(kaplanMeier(livesWithout(some, some))).toEqual([]);
  });
});

describe('accuracy', () => {
  const ranked = (closedMs: number, proven: (string | null)[], shownMs = closedMs): Ranked => ({
    closedMs,
    shownMs,
    symptomId: 'start-click',
    causes: [
      ['relay', 0.5],
      ['battery', 0.3],
      ['ground', 0.1],
      ['starter', 0.05],
    ],
    unlisted: 0.05,
    proven,
  });

  it('counts the first and the first three that held', () => {
    const found = accuracyOf([
      ranked(1, ['relay']),
      ranked(2, ['ground']),
      ranked(3, ['starter']),
      ranked(4, [null]),
    ]);
    expect(found.first).toMatchObject({ held: 1, of: 4, share: 0.25 });
    expect(found.firstThree).toMatchObject({ held: 2, of: 4 });
    expect(found.score).toBeNull();
    expect(found.bins.find((bin) => bin.from === 0.5)).toMatchObject({ shown: 4, held: 1, meanChance: 0.5 });
  });

  it('scores only the later part, against a frequency that knew only the earlier', () => {
    const found = accuracyOf(Array.from({ length: 100 }, (_, k) => ranked(k, ['relay'])));
    expect(found.score).toMatchObject({ rankings: 30, splitMs: 70 });
    expect(found.score?.shown).toBeCloseTo(Math.log(2), 12);
    // 70 of 70 before, one virtual case shared by five.
    expect(found.score?.frequency).toBeCloseTo(-Math.log(70.2 / 71), 12);
  });

  it('does not score what was shown before the last lesson of the frequency', () => {
    // The later thirty came in before the split: what closed between would tell the frequency of their own time.
    const found = accuracyOf(
      Array.from({ length: 100 }, (_, k) => ranked(k, ['relay'], k < 70 || k >= 75 ? k : 60)),
    );
    expect(found.score).toMatchObject({ rankings: 25, splitMs: 70 });
    expect(accuracyOf(Array.from({ length: 100 }, (_, k) => ranked(k, ['relay'], 0))).score).toBeNull();
  });

  it('of an empty ledger has no share of its own', () => {
    expect(accuracyOf([])).toMatchObject({
      rankings: 0,
      first: { share: 0, low: 0, high: 1 },
      bins: [],
      score: null,
    });
  });

  it('counts the same words together', () => {
    expect(
      groupWords([
        { words: 'Mouse nest', jobNumber: 3 },
        { words: ' mouse  nest ', jobNumber: 2 },
        { words: 'rust', jobNumber: 1 },
      ]),
    ).toEqual([
      { words: 'Mouse nest', times: 2, jobNumbers: [3, 2] },
      { words: 'rust', times: 1, jobNumbers: [1] },
    ]);
  });
});

describe('the shelf', () => {
  const terms = { leadDays: 30, coverDays: 30, service: 0.95 };
  const use = { kind: 'belt', used: Array(12).fill(4), onHand: 3, reserved: 0, onOrder: 0 };

  it('orders up to the demand of lead time and cover', () => {
    const [belt] = shelfAdvice([use], terms);
    // Poisson quantiles at 95 %: 8 for a mean of 4, 13 for a mean of 8 (value from memory, recomputed).
    expect(belt).toMatchObject({ reorderAt: 8, order: 10, available: 3 });
  });

  it('orders nothing that is there, on its way, or never used', () => {
    const rows = shelfAdvice(
      [
        { ...use, onHand: 9 },
        { ...use, kind: 'a', onOrder: 10 },
        { ...use, kind: 'b', used: Array(12).fill(0), onHand: 0 },
      ],
      terms,
    );
    expect(rows.map((row) => row.order)).toEqual([0, 0, 0]);
    expect(rows.find((row) => row.kind === 'b')?.neverMoves).toBe(true);
  });

  it('has a middle only of something', () => {
    expect(median([])).toBeNull();
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1])).toBe(2.5);
  });
});

describe('months', () => {
  it('without visits have no rate, and a month that is not over no limits', () => {
    const month = { month: 24_300, concerns: 0, visits: 0, isPartial: false };
    expect(monthSeries([])).toEqual({ months: [], center: null, hasLimits: false, halves: null });
    const series = monthSeries([month, { ...month, month: 24_301, isPartial: true, concerns: 3, visits: 6 }]);
    expect(series.months.map((one) => one.per100)).toEqual([null, 50]);
    expect(series.center).toBeNull();
  });

  it('are named by the clock of the shop', () => {
    const newYear = Date.parse('2025-12-31T23:30:00Z');
    expect(monthAt(newYear, 0)).toBe(2025 * 12 + 11);
    expect(monthAt(newYear, 60)).toBe(2026 * 12);
    expect(monthsWords(2025 * 12 + 10, 2026 * 12 + 1)).toBe('Nov 2025 to Feb 2026');
  });

  it('trends need three events', () => {
    expect(laplaceTrend({ times: [1, 2], until: 10 })).toBeNull();
    expect(powerLaw({ times: [], until: 10 })).toBeNull();
    expect(powerLaw({ times: [5, 5, 5], until: 5 })).toBeNull();
    expect(weibullFit([{ time: 5, isEvent: true }])).toBeNull();
  });
});

describe('bands', () => {
  it('take a vehicle that is a hundred years old, and one of next year', () => {
    expect(ageBand(100).title).toBe('over 20 years');
    expect(ageBand(-1).title).toBe('0 to 1 years');
    expect(ageBand(6).title).toBe('4 to 6 years');
  });

  it('grow wider with the mileage', () => {
    expect(mileageBandWords(0, 5000).title).toBe('0 to 5,000 km');
    expect(mileageBandWords(10, 5000).title).toBe('50,000 to 75,000 km');
    expect(mileageBandWords(400, 5000).title).toBe('100,000 km and more');
  });
});
