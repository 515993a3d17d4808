import { expect, test } from 'vitest';
import { unlistedCause } from '../../../src/book/index.ts';
import { rankCauses } from '../../../src/diagnosis/index.ts';
import { Problem } from '../../../src/problem.ts';
import type { SymptomId } from '../../../src/terms.ts';
import { book, cause, check, family, model, row, symptom } from './tiny-book.ts';

const dead = 'start-dead' as SymptomId;
const one = model('pellan-125', 'air-125');
const two = model('corvia-50', 'air-50', { starter: 'none' });
const three = model('tamsu-150', 'air-150');
const tiny = book({
  symptoms: [symptom('start-dead', { relay: 40, button: 30, brake: 20 }, 10)],
  causes: [
    cause('relay', { on: { starter: ['relay'] }, cautionIds: ['stop'] }),
    cause('button'),
    cause('brake', { showsWith: 0.5 }),
    cause('stand'),
  ],
  checks: [
    check('lamp', { lit: 0.98, dark: 0.02 }, { brake: { dark: 0.9 } }),
    check('click', { yes: 0.9, no: 0.1 }, { relay: { no: 0.97 }, button: { no: 0.95 }, brake: { no: 0.95 } }),
    check('pins', { both: 0.96, one: 0.02, none: 0.02 }, { button: { one: 0.95 }, brake: { none: 0.95 } }),
    check('horn', { loud: 0.9, mute: 0.1 }, {}),
    check('relay-volts', { full: 0.9, none: 0.1 }, { relay: { full: 0.9 } }, { on: { starter: ['relay'] } }),
  ],
  models: [one, two, three],
  families: [family('air-125'), family('air-50'), family('air-150')],
  cautions: [{ id: 'stop', signal: 'WARNING', hazard: '', avoid: '', doNotRide: true }],
});
const shareOf = (ranking: ReturnType<typeof rankCauses>, id: string): number =>
  ranking.causes.find((entry) => entry.causeId === id)?.probability ?? 0;

test('an empty ledger gives the shares of the book', () => {
  const ranking = rankCauses({ book: tiny, symptomId: dead, tally: [] });
  expect(ranking.causes.map((entry) => [entry.causeId, Number(entry.probability.toFixed(12))])).toEqual([
    ['relay', 0.4],
    ['button', 0.3],
    ['brake', 0.2],
  ]);
  expect(ranking.unlisted).toBeCloseTo(0.1, 12);
  expect(ranking.from).toBe('from the book, 0 of our jobs');
  expect(ranking.causes[0]?.doNotRide).toBe(true);
  expect(ranking.causes[1]?.doNotRide).toBe(false);
});

test('closed jobs move shares and counts, most on their own model', () => {
  const tally = [row('start-dead', 'brake', one, 8), row('start-dead', 'relay', three, 8)];
  const here = rankCauses({ book: tiny, symptomId: dead, model: one, tally });
  const there = rankCauses({ book: tiny, symptomId: dead, model: three, tally });
  expect(shareOf(here, 'brake')).toBeGreaterThan(shareOf(there, 'brake'));
  expect(shareOf(there, 'relay')).toBeGreaterThan(shareOf(here, 'relay'));
  const brake = here.causes.find((entry) => entry.causeId === 'brake');
  expect(brake?.confirmed).toEqual({ model: 8, family: 8, all: 8 });
  expect(brake?.of).toEqual({ model: 8, family: 8, all: 16 });
  expect(there.causes[0]?.of).toEqual({ model: 8, family: 8, all: 16 });
});

test('the model level is the concentration times the family mean plus the own evidence', () => {
  // By hand: nothing above speaks without the model's own jobs, so base = book; concentration 12 (default, one group).
  const ranking = rankCauses({
    book: tiny,
    symptomId: dead,
    model: one,
    tally: [row('start-dead', 'brake', one, 4)],
  });
  expect(shareOf(ranking, 'brake')).toBeCloseTo((12 * 0.2 + 4) / 16, 12);
  expect(shareOf(ranking, 'relay')).toBeCloseTo((12 * 0.4) / 16, 12);
});

test('a cause that cannot be on the machine does not compete, and the rest keeps its proportions', () => {
  const ranking = rankCauses({ book: tiny, symptomId: dead, model: two, tally: [] });
  expect(ranking.causes.map((entry) => entry.causeId)).toEqual(['button', 'brake']);
  expect(shareOf(ranking, 'button')).toBeCloseTo(0.3 / 0.6, 12);
  expect(ranking.unlisted).toBeCloseTo(0.1 / 0.6, 12);
});

test('a cause the book lacks raises the unlisted share; one the symptom does not list appears', () => {
  const before = rankCauses({ book: tiny, symptomId: dead, tally: [] });
  const lacking = rankCauses({
    book: tiny,
    symptomId: dead,
    tally: [row('start-dead', unlistedCause, null, 5)],
  });
  expect(lacking.unlisted).toBeGreaterThan(before.unlisted);
  const found = rankCauses({ book: tiny, symptomId: dead, tally: [row('start-dead', 'stand', null, 5)] });
  expect(found.causes.map((entry) => entry.causeId)).toContain('stand');
  expect(found.unlisted).toBeGreaterThan(0.02);
});

test('readings move the ranking; a reading of another system moves nothing', () => {
  const plain = rankCauses({ book: tiny, symptomId: dead, tally: [] });
  const other = rankCauses({
    book: tiny,
    symptomId: dead,
    tally: [],
    readings: [{ checkId: 'horn', outcome: 'loud' }],
  });
  for (const entry of plain.causes) {
    expect(shareOf(other, entry.causeId) / shareOf(other, 'relay')).toBeCloseTo(
      entry.probability / shareOf(plain, 'relay'),
      12,
    );
  }
  const none = rankCauses({
    book: tiny,
    symptomId: dead,
    tally: [],
    readings: [{ checkId: 'pins', outcome: 'none' }],
  });
  expect(none.causes[0]?.causeId).toBe('brake');
  expect(none.contradiction).toBeUndefined();
});

test('a pass lowers an intermittent fault without clearing it', () => {
  const readings = [{ checkId: 'lamp', outcome: 'lit' }];
  const steady = { ...tiny, causes: new Map(tiny.causes).set('brake' as never, cause('brake')) };
  const moody = rankCauses({ book: tiny, symptomId: dead, tally: [], readings });
  const firm = rankCauses({ book: steady, symptomId: dead, tally: [], readings });
  expect(shareOf(moody, 'brake')).toBeLessThan(0.2);
  expect(shareOf(moody, 'brake')).toBeGreaterThan(shareOf(firm, 'brake') * 2);
});

test('readings that no cause explains are named, with one to repeat', () => {
  const ranking = rankCauses({
    book: tiny,
    symptomId: dead,
    model: one,
    tally: [],
    readings: [
      { checkId: 'click', outcome: 'no' },
      { checkId: 'pins', outcome: 'one' },
      { checkId: 'lamp', outcome: 'dark' },
    ],
  });
  expect(ranking.contradiction?.repeat).not.toBeNull();
  expect(ranking.contradiction?.why).toMatch(/No single cause/);
  expect(ranking.pairs?.[0]?.causeIds).toEqual(['button', 'brake']);
});

test.each([
  [{ checkId: 'nothing', outcome: 'x' }, 'readings[0].checkId', /no check “nothing”/],
  [{ checkId: 'lamp', outcome: 'blue' }, 'readings[0].outcome', /lit, dark/],
  [{ checkId: 'lamp', value: 3 }, 'readings[0].value', /takes no number/],
])('a reading the book does not understand is refused: %j', (reading, field, message) => {
  const run = () => rankCauses({ book: tiny, symptomId: dead, tally: [], readings: [reading] });
  expect(run).toThrow(Problem);
  try {
    run();
  } catch (error) {
    expect((error as Problem).where?.field).toBe(field);
    expect((error as Problem).message).toMatch(message);
  }
});

test('a check that cannot be done on the machine is refused, and accepted where it can', () => {
  const readings = [
    { checkId: 'lamp', outcome: 'lit' },
    { checkId: 'relay-volts', outcome: 'full' },
  ];
  const on = (machine: typeof one) =>
    rankCauses({ book: tiny, symptomId: dead, model: machine, tally: [], readings });
  expect(on(one).causes.length).toBe(3);
  expect(() => on(two)).toThrow(/cannot be done on this machine.*starter relay/);
  try {
    on(two);
  } catch (error) {
    expect((error as Problem).where?.field).toBe('readings[1].checkId');
  }
});

test('an unknown symptom is not found', () => {
  expect(() => rankCauses({ book: tiny, symptomId: 'x' as SymptomId, tally: [] })).toThrow(/no symptom “x”/);
});
