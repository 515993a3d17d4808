import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nextChecks, rankCauses } from '../../src/diagnosis/index.ts';
import { repairCostOf } from '../../src/diagnosis/plan/repair-order.ts';
import type { SymptomId } from '../../src/terms.ts';
import { book, cause, check, family, model, row, symptom } from '../unit/diagnosis/tiny-book.ts';

const causeIds = ['a', 'b', 'c', 'd'] as const;
const models = ['m1', 'm2', 'm3', 'm4'].map((id, place) =>
  model(id, place < 2 ? 'f1' : 'f2', place === 0 ? { fueling: 'injection' } : {}),
);
const tiny = book({
  symptoms: [symptom('s', { a: 40, b: 30, c: 15, d: 10 }, 5)],
  causes: causeIds.map((id) =>
    cause(id, id === 'd' ? { on: { fueling: ['carburetor'] } } : { showsWith: id === 'c' ? 0.4 : 1 }),
  ),
  checks: [
    check('k1', { x: 0.9, y: 0.1 }, { a: { y: 0.8 }, d: { y: 0.5 } }),
    check('k2', { x: 0.7, y: 0.2, z: 0.1 }, { b: { y: 0.9 }, c: { z: 0.9 } }),
    check('k3', { x: 0.99, y: 0.01 }, { c: { y: 1 } }),
  ],
  models,
  families: [family('f1'), family('f2')],
});
const tally = fc
  .array(
    fc.record({
      cause: fc.constantFrom(...causeIds, '(not in the book)', 'gone-from-the-book'),
      on: fc.constantFrom(...models, null),
      concerns: fc.integer({ min: 1, max: 40 }),
      part: fc.double({ min: 0.5, max: 1, noNaN: true }),
    }),
    { maxLength: 25 },
  )
  .map((rows) =>
    rows.map((one) => row('s', one.cause, one.on, one.concerns, Math.round(one.concerns * one.part * 1e6))),
  );
const readings = fc.array(
  fc.constantFrom(
    { checkId: 'k1', outcome: 'x' },
    { checkId: 'k1', outcome: 'y' },
    { checkId: 'k2', outcome: 'y' },
    { checkId: 'k2', outcome: 'z' },
    { checkId: 'k3', outcome: 'x' },
    { checkId: 'k3', outcome: 'y' },
  ),
  { maxLength: 6 },
);

test('shares sum to 1 with the unlisted share, which is always kept, inside intervals that hold them', () => {
  fc.assert(
    fc.property(tally, readings, fc.constantFrom(...models, null), (rows, given, on) => {
      const input = { book: tiny, symptomId: 's' as SymptomId, tally: rows, readings: given, model: on };
      const ranking = rankCauses(input);
      const sum = ranking.causes.reduce((total, one) => total + one.probability, ranking.unlisted);
      expect(Math.abs(sum - 1)).toBeLessThan(1e-12);
      expect(ranking.unlisted).toBeGreaterThan(0);
      for (const one of ranking.causes) {
        expect(one.low).toBeGreaterThanOrEqual(0);
        expect(one.low).toBeLessThanOrEqual(one.probability);
        expect(one.high).toBeGreaterThanOrEqual(one.probability);
        expect(one.high).toBeLessThanOrEqual(1);
        expect(one.confirmed.model).toBeLessThanOrEqual(one.confirmed.family);
        expect(one.confirmed.family).toBeLessThanOrEqual(one.confirmed.all);
        expect(one.confirmed.all).toBeLessThanOrEqual(one.of.all);
      }
      expect(rankCauses(input)).toEqual(ranking);
    }),
    { numRuns: 60 },
  );
});

test('the order of readings of different checks and of tally rows does not matter', () => {
  fc.assert(
    fc.property(tally, (rows) => {
      const given = [
        { checkId: 'k1', outcome: 'y' },
        { checkId: 'k2', outcome: 'z' },
        { checkId: 'k3', outcome: 'x' },
      ];
      const one = rankCauses({ book: tiny, symptomId: 's' as SymptomId, tally: rows, readings: given });
      const other = rankCauses({
        book: tiny,
        symptomId: 's' as SymptomId,
        tally: [...rows].reverse(),
        readings: [...given].reverse(),
      });
      for (const entry of one.causes) {
        const twin = other.causes.find((candidate) => candidate.causeId === entry.causeId);
        expect(twin?.probability).toBeCloseTo(entry.probability, 9);
      }
    }),
    { numRuns: 40 },
  );
});

test('one more proven job never lowers the share of its cause on its model', () => {
  fc.assert(
    fc.property(tally, fc.constantFrom('a', 'b', 'c'), fc.constantFrom(...models), (rows, id, on) => {
      // Concentrations are fitted anew with every job; with one or two groups they stay at the default, and the rule is exact.
      const few = rows.filter((one) => one.modelId === on.id);
      const shareOf = (list: typeof rows): number =>
        rankCauses({ book: tiny, symptomId: 's' as SymptomId, model: on, tally: list }).causes.find(
          (one) => one.causeId === id,
        )?.probability ?? 0;
      expect(shareOf([...few, row('s', id, on, 1)])).toBeGreaterThan(shareOf(few));
    }),
    { numRuns: 40 },
  );
});

test('probability over cost is the cheapest of all repair orders', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.tuple(
          fc.double({ min: 0.01, max: 1, noNaN: true }),
          fc.double({ min: 0.5, max: 90, noNaN: true }),
        ),
        {
          minLength: 1,
          maxLength: 6,
        },
      ),
      (items) => {
        const p = items.map(([weight]) => weight);
        const cost = items.map(([, minutes]) => minutes);
        const order = Int32Array.from(items.keys());
        const computed = repairCostOf(p, cost, order, new Float64Array(items.length));
        let cheapest = Number.POSITIVE_INFINITY;
        const walk = (left: readonly number[], mass: number, sum: number): void => {
          if (left.length === 0) cheapest = Math.min(cheapest, sum);
          for (const place of left) {
            walk(
              left.filter((other) => other !== place),
              mass - (p[place] as number),
              sum + mass * (cost[place] as number),
            );
          }
        };
        walk(
          [...items.keys()],
          p.reduce((sum, weight) => sum + weight, 0),
          0,
        );
        expect(computed).toBeCloseTo(cheapest, 6);
      },
    ),
  );
});

test('a plan never offers what was read or skipped', () => {
  fc.assert(
    fc.property(tally, readings, (rows, given) => {
      const plan = nextChecks({
        book: tiny,
        symptomId: 's' as SymptomId,
        tally: rows,
        readings: given,
        skipped: ['k3' as never],
        laborPerMinute: 1,
        partPrice: () => null,
      });
      const offered = plan.checks
        .filter((view) => !view.why.startsWith('Repeat it'))
        .map((view) => view.checkId as string);
      expect(offered).not.toContain('k3');
      for (const reading of given) expect(offered).not.toContain(reading.checkId);
      expect(plan.expectedMinutes).toBeGreaterThan(0);
    }),
    { numRuns: 40 },
  );
});
