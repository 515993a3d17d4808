import { expect, test } from 'vitest';
import type { JobView } from '../../../src/api/contract.ts';
import { conflictWords, stillHolds, whatChanged } from '../../../src/renderer/bench/card-conflict.ts';

// Which changes go on top of another hand's, and what is told of those that do not: the program's own rule, no outside source.

const concern: JobView['concerns'][number] = {
  concernId: 'c-1',
  version: 1,
  words: 'one click',
  symptomId: 'start-click',
  symptom: 'One click',
  state: 'open',
  readings: [],
  closing: null,
  closedAt: null,
  causes: [],
  comeback: null,
};
const card: JobView = {
  jobId: 'j-1',
  number: 7,
  version: 1,
  status: 'in-work',
  openedAt: '2026-03-02T09:00:00+00:00',
  closedAt: null,
  promiseAt: null,
  mileage_km: null,
  keyTag: null,
  technician: null,
  note: null,
  consent: { diagnosisUpTo: null, testRide: false, oldPartsBack: false },
  vehicle: null,
  concerns: [concern],
  advisories: [],
  earlierAdvisories: [],
  approvals: [],
  doNotRide: false,
  visits: [],
};
const advisory = {
  advisoryId: 'a-1',
  jobId: 'j-1',
  jobNumber: 7,
  words: 'pads at the end',
  urgency: 'now' as const,
  doNotRide: false,
  state: 'open' as const,
  madeAt: card.openedAt,
};
const approval = {
  approvalId: 'p-1',
  at: card.openedAt,
  who: 'Petra Invented',
  how: 'phone' as const,
  amount: { amount: 8000, currency: 'USD' },
  words: null,
};

test.each<[string, Parameters<typeof stillHolds>[0], object, Partial<JobView>, boolean]>([
  ['another field', 'jobs.update', { set: { note: 'call first' } }, { keyTag: '14' }, true],
  ['the same field', 'jobs.update', { set: { note: 'call first' } }, { note: 'other' }, false],
  [
    'another line of the consent',
    'jobs.update',
    { set: { consent: { testRide: true } } },
    { consent: { ...card.consent, oldPartsBack: true } },
    true,
  ],
  [
    'the same line of the consent',
    'jobs.update',
    { set: { consent: { testRide: true } } },
    { consent: { ...card.consent, testRide: true } },
    false,
  ],
  ['a field beside an approval', 'jobs.approve', { who: 'x' }, { keyTag: '14' }, true],
  ['an approval beside an approval', 'jobs.approve', { who: 'x' }, { approvals: [approval] }, false],
  ['an advisory beside an advisory', 'jobs.advise', { words: 'x' }, { advisories: [advisory] }, false],
  ['an approval beside an advisory', 'jobs.advise', { words: 'x' }, { approvals: [approval] }, true],
  [
    'a concern that was closed',
    'jobs.reopen',
    { concernId: 'c-1' },
    { concerns: [{ ...concern, state: 'closed' }] },
    false,
  ],
  [
    'words that were changed',
    'jobs.editConcern',
    { concernId: 'c-1' },
    { concerns: [{ ...concern, words: 'two' }] },
    false,
  ],
  ['the promise beside a reading', 'jobs.record', { concernId: 'c-1' }, { keyTag: '2' }, true],
  ['a concern that is gone', 'jobs.record', { concernId: 'c-9' }, {}, false],
])('%s: whether a change still holds', (_, name, input, changed, holds) => {
  expect(stillHolds(name, input, card, { ...card, ...changed, version: 2 })).toBe(holds);
});

test('what another hand changed is told in the order of the card, and nothing where nothing changed', () => {
  expect(whatChanged(card, { ...card, version: 2 })).toEqual([]);
  expect(
    whatChanged(card, {
      ...card,
      status: 'ready',
      note: 'spare key',
      concerns: [
        { ...concern, words: 'two clicks' },
        { ...concern, concernId: 'c-2', words: 'no horn' },
      ],
      advisories: [advisory],
      approvals: [approval],
    }),
  ).toEqual([
    'the status is now Ready',
    'the note is now “spare key”',
    'the words are now “two clicks”',
    'a complaint was added: “no horn”',
    'an advisory was added: Now, “pads at the end”',
    'Petra Invented approved $80.00 by phone',
  ]);
  expect(conflictWords(card, { ...card, keyTag: '14' }).message).toBe(
    'Somebody else changed this card meanwhile: the key tag is now “14”.',
  );
});
