import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  addToTally,
  type ClosedConcern,
  rebuildTally,
  removeFromTally,
  tallyDelta,
  tallyRowsOf,
} from '../../src/ledger/index.ts';

const concern = fc.record({
  concernId: fc.uuid(),
  jobId: fc.uuid(),
  vehicleId: fc.constant('v'),
  modelId: fc.constantFrom('m1', 'm2', null),
  familyId: fc.constantFrom('f1', null),
  symptomId: fc.constantFrom('s1', 's2', null),
  closedAt: fc.nat(),
  mileage_km: fc.constant(null),
  outcome: fc.constantFrom('proven', 'proven', 'proven', 'normal'),
  causes: fc.array(fc.constantFrom('a', 'b', 'c', '(not in the book)'), { minLength: 1, maxLength: 4 }),
  proof: fc.constantFrom('retested', 'measured', 'replaced'),
  takenBack: fc.boolean(),
}) as unknown as fc.Arbitrary<ClosedConcern>;

test('closing and reopening one by one gives the tally that a rebuild gives', () => {
  fc.assert(
    fc.property(fc.array(concern, { maxLength: 30 }), fc.array(fc.nat({ max: 29 })), (concerns, reopened) => {
      let tally = addToTally([], []);
      for (const one of concerns) tally = addToTally(tally, tallyRowsOf(one));
      const gone = new Set(reopened.filter((place) => place < concerns.length));
      for (const place of gone) tally = removeFromTally(tally, tallyRowsOf(concerns[place] as ClosedConcern));
      expect(tally).toEqual(rebuildTally(concerns.filter((_, place) => !gone.has(place))));
    }),
  );
});

test('a concern gives its weight once, and every change can be reversed', () => {
  fc.assert(
    fc.property(concern, concern, (before, after) => {
      const rows = tallyRowsOf(before);
      const total = rows.reduce((sum, row) => sum + row.weight, 0);
      const whole = { retested: 1_000_000, measured: 750_000, replaced: 500_000 }[before.proof ?? 'retested'];
      expect(total).toBe(rows.length === 0 ? 0 : whole);
      const there = addToTally(rebuildTally([before]), tallyDelta(before, after));
      expect(there).toEqual(rebuildTally([after]));
      expect(addToTally(there, tallyDelta(after, before))).toEqual(rebuildTally([before]));
    }),
  );
});
