import { expect, test } from 'vitest';
import { unlistedCause } from '../../../src/book/index.ts';
import {
  type ClosedConcern,
  comebackDelta,
  decideComeback,
  matchComeback,
  rebuildTally,
  removeFromTally,
  tallyRowsOf,
} from '../../../src/ledger/index.ts';

const day = 86_400_000;
const concern = (more: Partial<Record<keyof ClosedConcern, unknown>> = {}): ClosedConcern =>
  ({
    concernId: 'c1',
    jobId: 'j1',
    vehicleId: 'v1',
    modelId: 'pellan-125',
    familyId: 'air-125',
    symptomId: 'start-click',
    closedAt: 1000 * day,
    mileage_km: 10_000,
    outcome: 'proven',
    causes: ['relay-coil-open'],
    proof: 'retested',
    takenBack: false,
    ...more,
  }) as ClosedConcern;
const back = (days: number, km: number | null, symptomId = 'start-click') =>
  ({ symptomId, openedAt: (1000 + days) * day, mileage_km: km, jobId: 'j2' }) as never;
const related = (one: string, other: string) => one === 'start-dead' && other === 'start-click';

test('weights by proof, split over causes to whole millionths', () => {
  expect(tallyRowsOf(concern())[0]).toMatchObject({ concerns: 1, weight: 1_000_000 });
  expect(tallyRowsOf(concern({ proof: 'measured' }))[0]?.weight).toBe(750_000);
  expect(tallyRowsOf(concern({ proof: 'replaced' }))[0]?.weight).toBe(500_000);
  const three = tallyRowsOf(concern({ causes: ['c', 'a', 'b', 'a'] }));
  expect(three.map((row) => [row.causeId, row.weight])).toEqual([
    ['a', 333_334],
    ['b', 333_333],
    ['c', 333_333],
  ]);
  expect(tallyRowsOf(concern({ outcome: 'normal', causes: [], proof: null }))).toEqual([]);
  expect(tallyRowsOf(concern({ takenBack: true }))).toEqual([]);
});

test('a return is a comeback within the days or within the km', () => {
  const match = (days: number, km: number | null, symptom?: string) =>
    matchComeback([concern()], back(days, km, symptom), related);
  expect(match(90, 15_000)?.daysBetween).toBe(90);
  expect(match(91, 15_000)).toBeNull();
  expect(match(200, 11_000)?.km).toBe(1000);
  expect(match(200, 11_001)).toBeNull();
  expect(match(200, null)).toBeNull();
  // The odometer was changed: km say nothing.
  expect(match(200, 3)).toBeNull();
  expect(match(10, 3)?.km).toBeNull();
  expect(match(10, 10_100, 'start-dead')?.why).toBe('Back with a related symptom after 10 days and 100 km.');
  expect(match(10, 10_100, 'horn-weak')).toBeNull();
});

test('the last proven repair is the one in doubt; the same job and unproven concerns are not', () => {
  const earlier = concern({ concernId: 'c0', closedAt: 990 * day });
  const latest = concern();
  expect(matchComeback([latest, earlier], back(5, null), related)?.of.concernId).toBe('c1');
  expect(matchComeback([concern({ jobId: 'j2' })], back(5, null), related)).toBeNull();
  expect(matchComeback([concern({ outcome: 'not-reproduced' })], back(5, null), related)).toBeNull();
  expect(matchComeback([concern({ takenBack: true })], back(5, null), related)).toBeNull();
});

test('decided at closing, the manager before everything', () => {
  const first = concern();
  const second = (causes: string[], outcome = 'proven') => ({ causes, outcome }) as never;
  expect(decideComeback(first, null).state).toBe('in-doubt');
  expect(decideComeback(first, second(['starter-worn'])).state).toBe('diagnosis-taken-back');
  expect(decideComeback(first, second(['relay-coil-open']), null, true)).toMatchObject({
    state: 'diagnosis-stands',
    against: 'part',
  });
  expect(decideComeback(first, second(['relay-coil-open']), null, false).against).toBe('work');
  expect(decideComeback(first, second([], 'not-reproduced')).state).toBe('no-comeback');
  expect(decideComeback(concern({ causes: [unlistedCause] }), second([unlistedCause])).state).toBe(
    'in-doubt',
  );
  expect(decideComeback(first, second(['starter-worn']), 'declined').state).toBe('no-comeback');
  expect(decideComeback(first, second(['relay-coil-open']), 'wrong-diagnosis').state).toBe(
    'diagnosis-taken-back',
  );
  expect(decideComeback(first, second(['starter-worn']), 'workmanship')).toMatchObject({
    state: 'diagnosis-stands',
    against: 'work',
  });
});

test('taking back removes the rows of the first repair, undoing puts them back', () => {
  const first = concern();
  const before = rebuildTally([first]);
  const { tally: taken, closed } = comebackDelta(first, 'in-doubt', 'diagnosis-taken-back');
  expect(taken).toEqual(removeFromTally([], before));
  expect(closed[0]).toMatchObject({ outcome: 'proven', concerns: -1 });
  expect(comebackDelta(first, 'diagnosis-taken-back', 'in-doubt').tally).toEqual(before);
  expect(comebackDelta(first, 'in-doubt', 'diagnosis-stands').tally).toEqual([]);
});
