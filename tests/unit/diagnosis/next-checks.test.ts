import { expect, test } from 'vitest';
import type { Precondition } from '../../../src/book/index.ts';
import { nextChecks, type PlanInput } from '../../../src/diagnosis/index.ts';
import type { CheckId, SymptomId } from '../../../src/terms.ts';
import { book, cause, check, symptom } from './tiny-book.ts';

const dead = 'start-dead' as SymptomId;
const repair = (minutes: number, part?: string) => ({
  title: 'Repair it',
  steps: [],
  minutes,
  parts: part ? [{ kind: part, quantity: 1 }] : [],
  proof: '',
});
const charged: Precondition = {
  id: 'battery-charged',
  title: 'Battery charged and rested',
  because: 'A low battery looks like every other fault.',
  checkId: 'rest-volts' as CheckId,
  metBy: ['good'],
  otherwise: 'Charge it, let it rest.',
  elapsedMinutes: 240,
};
const tiny = book({
  symptoms: [symptom('start-dead', { relay: 30, starter: 30, button: 20, battery: 15 }, 5)],
  causes: [
    cause('relay', { repair: repair(15, 'relay') }),
    cause('starter', { repair: repair(60, 'starter') }),
    cause('button', { repair: repair(15) }),
    cause('battery', { repair: repair(5, 'battery') }),
  ],
  checks: [
    check('rest-volts', { good: 0.95, low: 0.05 }, { battery: { low: 0.9 } }, { minutes: 2 }),
    check(
      'click',
      { yes: 0.95, no: 0.05 },
      { relay: { no: 0.7 }, button: { no: 0.95 } },
      { minutes: 1, kind: 'listen' },
    ),
    check(
      'drop-across-studs',
      { small: 0.95, large: 0.05 },
      { relay: { large: 0.9 } },
      { minutes: 4, needs: ['battery-charged'], access: ['seat-panel'] },
    ),
    check(
      'relay-coil',
      { volts: 0.9, none: 0.1 },
      { button: { none: 0.95 } },
      { minutes: 4, access: ['seat-panel'] },
    ),
    check('horn-loud', { yes: 0.9, no: 0.1 }, {}, { minutes: 1 }),
    check(
      'same-for-all',
      { yes: 0.5, no: 0.5 },
      { relay: { yes: 0.5 }, starter: { yes: 0.5 } },
      { minutes: 0.1 },
    ),
  ],
  preconditions: [charged],
});
const plan = (more: Partial<PlanInput> = {}) =>
  nextChecks({
    book: tiny,
    symptomId: dead,
    tally: [],
    laborPerMinute: 1,
    partPrice: (kind) => ({ relay: 20, starter: 150, battery: 60 })[kind] ?? null,
    ...more,
  });

test('checks that separate nothing are left out, the rest are in order with reasons', () => {
  const { checks } = plan();
  const ids = checks.map((view) => view.checkId);
  expect(ids).not.toContain('horn-loud');
  expect(ids).not.toContain('same-for-all');
  expect(ids.length).toBe(4);
  expect(checks[0]?.why).toMatch(/^Separates .+ from .+; about \d+ of \d+ remaining minutes saved\.$/);
  for (const view of checks) {
    expect(view.outcomes.reduce((sum, outcome) => sum + outcome.chance, 0)).toBeCloseTo(1, 9);
  }
});

test('a precondition comes first when the best check needs it, and only then', () => {
  const readings = [
    { checkId: 'click', outcome: 'yes' },
    { checkId: 'relay-coil', outcome: 'volts' },
  ];
  const due = plan({ readings });
  expect(due.checks.map((view) => view.checkId)).toContain('drop-across-studs');
  if (due.first) {
    expect(due.first.id).toBe('battery-charged');
    expect(due.checks[0]?.checkId).toBe('rest-volts');
  }
  const met = plan({ readings: [...readings, { checkId: 'rest-volts', outcome: 'good' }] });
  expect(met.first).toBeUndefined();
  expect(met.checks[0]?.checkId).toBe('drop-across-studs');
  const noTool = plan({ readings, skipped: ['rest-volts' as CheckId] });
  expect(noTool.first).toBeUndefined();
});

test('a failed precondition holds the check back and says what to do', () => {
  const failed = plan({
    readings: [
      { checkId: 'rest-volts', outcome: 'low' },
      { checkId: 'click', outcome: 'yes' },
      { checkId: 'relay-coil', outcome: 'volts' },
    ],
  });
  expect(failed.checks.map((view) => view.checkId)).not.toContain('drop-across-studs');
});

test('what is already open makes a check cheaper', () => {
  const before = plan().checks.find((view) => view.checkId === 'relay-coil');
  const after = plan({ done: ['drop-across-studs' as CheckId] }).checks.find(
    (view) => view.checkId === 'relay-coil',
  );
  expect(before?.minutes).toBe(4);
  expect(after?.minutes).toBe(2);
});

test('repairing is proposed when it costs less than any check saves', () => {
  const readings = [
    { checkId: 'click', outcome: 'no' },
    { checkId: 'relay-coil', outcome: 'none' },
  ];
  const { conclude } = plan({ readings });
  expect(conclude?.causeId).toBe('button');
});

test('an expensive part is never the test while a check is left that separates its cause', () => {
  // Starter leads, and the only check left costs far more time than fitting a starter would.
  const dear = book({
    symptoms: [symptom('start-dead', { starter: 60, relay: 35 }, 5)],
    causes: [
      cause('starter', { repair: repair(5, 'starter') }),
      cause('relay', { repair: repair(5, 'relay') }),
    ],
    checks: [check('bench-test', { spins: 0.9, dead: 0.1 }, { starter: { dead: 0.95 } }, { minutes: 500 })],
  });
  const left = nextChecks({ book: dear, symptomId: dead, tally: [], laborPerMinute: 1, partPrice: () => 40 });
  expect(left.conclude).toBeUndefined();
  expect(left.checks[0]?.checkId).toBe('bench-test');
  const none = nextChecks({
    book: dear,
    symptomId: dead,
    tally: [],
    laborPerMinute: 1,
    partPrice: () => 40,
    done: ['bench-test' as CheckId],
  });
  expect(none.conclude?.causeId).toBe('starter');
  expect(none.conclude?.why).toMatch(/No check is left that tells much more/);
});

test('a contradiction puts the reading to repeat first and proposes no repair', () => {
  const { checks, conclude } = plan({
    readings: [
      { checkId: 'rest-volts', outcome: 'low' },
      { checkId: 'click', outcome: 'no' },
      { checkId: 'relay-coil', outcome: 'none' },
      { checkId: 'drop-across-studs', outcome: 'large' },
    ],
  });
  expect(checks[0]?.why).toMatch(/^Repeat it/);
  expect(conclude).toBeUndefined();
});

test('a check is offered only where its words and what it operates make sense', () => {
  const of = (more: Parameters<typeof check>[3], lacks: readonly ('power' | 'running-engine')[] = []) => {
    const asked = book({
      symptoms: [{ ...symptom('start-dead', { relay: 50, button: 45 }, 5), lacks }],
      causes: [cause('relay'), cause('button')],
      checks: [check('telling', { yes: 0.9, no: 0.1 }, { relay: { no: 0.95 } }, more)],
    });
    return plan({ book: asked }).checks.map((one) => one.checkId);
  };
  expect(of({})).toEqual(['telling']);
  expect(of({ symptomIds: ['start-slow' as SymptomId] })).toEqual([]);
  expect(of({ symptomIds: ['start-slow' as SymptomId, dead] })).toEqual(['telling']);
  expect(of({ controls: { engine: 'idling' } })).toEqual(['telling']);
  expect(of({ controls: { engine: 'idling' } }, ['running-engine'])).toEqual([]);
  expect(of({ controls: { 'start-button': 'pressed' } }, ['running-engine'])).toEqual(['telling']);
  expect(of({ controls: { 'start-button': 'pressed' } }, ['power'])).toEqual([]);
  expect(of({ controls: { 'start-button': 'released' } }, ['power'])).toEqual(['telling']);
});
