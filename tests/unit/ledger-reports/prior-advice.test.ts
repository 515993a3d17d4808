import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ageBand,
  ageSpan,
  mileageBandWords,
  mileageSpan,
  priorAdvice,
  shareProven,
  sharesAfter,
} from '../../../src/ledger/index.ts';

const symptom = (counts: Record<string, number>, concerns: number, canOccur = (_: string) => true) => ({
  symptomId: 's',
  priors: [
    { causeId: 'a', of100: 50 },
    { causeId: 'b', of100: 30 },
    { causeId: 'c', of100: 10 },
  ],
  unlistedOf100: 10,
  groups: [{ concerns, counts: new Map(Object.entries(counts)), canOccur }],
});

describe('suggestions for the shares of a symptom', () => {
  test('nothing where the jobs agree with the book', () => {
    expect(priorAdvice([symptom({ a: 50, b: 30, c: 10 }, 100)]).advice).toEqual([]);
  });
  test('nothing from few jobs, however far off', () => {
    expect(priorAdvice([symptom({ c: 19 }, 19)])).toEqual({ advice: [], symptoms: 0, tested: 0 });
  });
  test('what was proven far more often than the book says becomes nearly what was proven', () => {
    const { advice, tested } = priorAdvice([symptom({ a: 35, b: 20, c: 40 }, 100)]);
    expect(tested).toBe(3);
    const [first] = advice;
    expect(first).toMatchObject({ causeId: 'c', proven: 40, concerns: 100, now: 10, becomes: 39 });
    expect(first?.expected).toBeCloseTo(10, 12);
    // Mean 10, standard deviation 3: ten of them away (normal approximation), so three looks leave it tiny.
    expect(first?.falseShare).toBeLessThan(1e-10);
  });
  test('a cause that cannot occur on the machines is not expected there', () => {
    const withoutA = (causeId: string): boolean => causeId !== 'a';
    // Without a, the book's b is 30 of 50: 60 of 100 agree with it.
    expect(priorAdvice([symptom({ b: 60, c: 20 }, 100, withoutA)]).advice).toEqual([]);
    const { advice } = priorAdvice([symptom({ b: 30, c: 50 }, 100, withoutA)]);
    expect(advice.map((one) => one.causeId)).toContain('c');
    expect(advice.find((one) => one.causeId === 'c')?.expected).toBeCloseTo(20, 12);
  });
  test('shares stay between 1 and 90', () => {
    const { advice } = priorAdvice([symptom({ a: 0, c: 300 }, 300)]);
    expect(advice.find((one) => one.causeId === 'a')?.becomes).toBe(1);
    expect(advice.find((one) => one.causeId === 'c')?.becomes).toBe(90);
    expect(shareProven(1, 1000)).toBe(1);
    expect(shareProven(9, 9)).toBe(50);
  });
  test('shares that are set make 100 with the others, in whole numbers of at least 1', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 2, maxLength: 20 }),
        fc.integer({ min: 1, max: 80 }),
        (raw, set) => {
          const shares = new Map(raw.map((share, place) => [`k${place}`, share]));
          const after = sharesAfter(shares, 'k0', set);
          const all = [...after.values()];
          expect(all.reduce((sum, share) => sum + share, 0)).toBe(100);
          expect(after.get('k0')).toBe(set);
          for (const share of all) expect(Number.isInteger(share) && share >= 1).toBe(true);
        },
      ),
    );
  });
  test('an added share takes from all', () => {
    const after = sharesAfter(
      new Map([
        ['a', 60],
        ['b', 40],
      ]),
      'new',
      10,
    );
    expect([...after]).toEqual([
      ['a', 54],
      ['b', 36],
      ['new', 10],
    ]);
  });
  test('so many that whole numbers do not fit stand in tenths', () => {
    const after = sharesAfter(new Map(Array.from({ length: 15 }, (_, k) => [`k${k}`, 1])), 'k0', 90);
    expect([...after.values()].reduce((sum, share) => sum + share, 0)).toBeCloseTo(100, 9);
  });
});

describe('what a group of a report stands for', () => {
  test('every age lies in the span of its own band, and in no other', () => {
    const keys = ['0-1', '2-3', '4-6', '7-10', '11-20', 'older'];
    for (let years = -2; years <= 120; years += 1) {
      const inside = keys.filter((key) => {
        const span = ageSpan(key);
        return span !== null && years >= span.from && (span.to === null || years <= span.to);
      });
      expect(inside).toEqual([ageBand(years).key]);
    }
    for (const key of ['0-2', '', 'NaN', '2-3 ']) expect(ageSpan(key)).toBeNull();
  });
  test('every mileage band lies in the span of its own key', () => {
    for (let band = 0; band <= 60; band += 1) {
      const span = mileageSpan(mileageBandWords(band, 5000).key, 5000);
      expect(span && band >= span.from && (span.to === null || band <= span.to)).toBe(true);
    }
    for (const key of ['1', '7500', '60000', '-5000', 'x']) expect(mileageSpan(key, 5000)).toBeNull();
  });
});
