import { describe, expect, test } from 'vitest';
import { type CheckView, closing, contract } from '../../../src/api/contract.ts';
import { closingOf, emptyClosing, missing } from '../../../src/renderer/bench/closing-form.ts';
import { outcomeOf, plainNumber, readingOf } from '../../../src/renderer/bench/typed-number.ts';
import { emptyVehicle, newIntake, openInput } from '../../../src/renderer/counter/intake.ts';
import { fromField, toField, toInstant } from '../../../src/renderer/words/time.ts';

// The forms are checked against the contract's own schemas; the words of what is missing have no outside source.
const concernId = '019379a0-0000-7000-8000-000000000001';

describe('what the Counter sends', () => {
  test('a new vehicle with everything filled in fits jobs.open', () => {
    const input = openInput({
      ...newIntake(),
      vehicle: {
        kind: 'new',
        customer: null,
        form: {
          ...emptyVehicle,
          plate: 'KV 1204',
          modelId: 'pellan-125',
          year: '2019',
          customerName: 'Dana Oyelaran',
          customerPhone: '555 0142',
        },
      },
      concerns: [
        {
          concernId,
          words: 'just one click',
          symptomId: 'start-click',
          symptom: 'One click but the starter does not turn',
          answers: [{ title: 'Lights', shows: 'Dim', reading: { checkId: 'lights-dim', outcome: 'dim' } }],
        },
      ],
      promiseAt: toInstant(new Date(2026, 10, 26, 17)),
      mileage: '18 400',
      keyTag: ' 14 ',
      diagnosisUpTo: { amount: 8000, currency: 'USD' },
    });
    const parsed = contract['jobs.open'].input.parse(input);
    expect(parsed.mileage_km).toBe(18_400);
    expect(parsed.keyTag).toBe('14');
    expect(parsed.vehicle).toEqual({ plate: 'KV 1204', modelId: 'pellan-125', year: 2019 });
    expect(parsed.customer).toEqual({ name: 'Dana Oyelaran', phone: '555 0142' });
    expect(parsed.readings).toEqual([{ checkId: 'lights-dim', outcome: 'dim' }]);
  });

  test('an intake with words only leaves out what was not filled in', () => {
    const input = openInput({
      ...newIntake(),
      concerns: [{ concernId, words: 'it goes but slow', symptomId: null, symptom: null, answers: [] }],
      mileage: 'many',
    });
    const parsed = contract['jobs.open'].input.parse(input);
    expect(parsed.concerns).toEqual([{ concernId, words: 'it goes but slow' }]);
    expect(parsed).not.toHaveProperty('mileage_km');
    expect(parsed).not.toHaveProperty('vehicle');
    expect(parsed).not.toHaveProperty('customer');
  });
});

describe('what the closing sends', () => {
  test('says what is missing, in the order of the form', () => {
    const empty = emptyClosing(null);
    expect(missing(empty, '')).toBe('Say what it was.');
    expect(missing({ ...empty, causeIds: ['a'] }, '')).toBe('Say how it was proven.');
    expect(missing({ ...empty, causeIds: ['a'], proof: 'retested' }, ' ')).toMatch(/retested/);
    expect(missing({ ...empty, causeIds: ['a'], proof: 'retested' }, 'ten starts')).toBeNull();
    expect(missing({ ...empty, apart: 'normal' }, '')).toBeNull();
    expect(missing({ ...empty, apart: 'normal', minutes: 'x' }, '')).toMatch(/Minutes/);
  });

  test('a proven cause with a part fits the contract', () => {
    const part = { key: '1', kind: 'start-button', partNumber: '', supplier: ' Eastgate ', quantity: '1' };
    const sent = closingOf(
      {
        ...emptyClosing('start-button-worn'),
        proof: 'retested',
        minutes: '22,5',
        parts: [{ ...part, description: 'Start button' }],
      },
      'Ten starts, cold and warm.',
    );
    expect(closing.parse(sent)).toEqual({
      kind: 'proven',
      causes: [{ causeId: 'start-button-worn' }],
      proof: 'retested',
      retest: 'Ten starts, cold and warm.',
      minutes: 22.5,
      parts: [
        { description: 'Start button', quantity: 1, kind: 'start-button', supplier: 'Eastgate', forCause: 0 },
      ],
    });
  });

  test('a cause the book lacks goes in words, and a closing without a cause carries none', () => {
    const words = closingOf({ ...emptyClosing(null), words: ' mouse nest ', proof: 'measured' }, '');
    expect(closing.parse(words)).toMatchObject({ causes: [{ words: 'mouse nest' }], proof: 'measured' });
    const apart = closingOf({ ...emptyClosing(null), apart: 'not-reproduced', note: 'ran all day' }, '');
    expect(closing.parse(apart)).toEqual({ kind: 'not-reproduced', note: 'ran all day' });
  });
});

describe('a typed number', () => {
  const outcomes = [
    { outcome: 'full', title: '', means: '', chance: 0.3, low: 10, high: null },
    { outcome: 'low', title: '', means: '', chance: 0.3, low: 1, high: 10 },
    { outcome: 'none', title: '', means: '', chance: 0.4, low: null, high: 1 },
  ];
  test('reads comma and point, and leaves words with a unit to the book', () => {
    expect(plainNumber('5,9')).toBe(5.9);
    expect(plainNumber(' -0.3 ')).toBe(-0.3);
    expect(plainNumber('12600 mV')).toBeNull();
    expect(plainNumber('1.2.3')).toBeNull();
    expect(plainNumber('')).toBeNull();
  });
  test('falls under one answer at the edges too', () => {
    expect(outcomeOf(outcomes, 10)?.outcome).toBe('full');
    expect(outcomeOf(outcomes, 9.99)?.outcome).toBe('low');
    expect(outcomeOf(outcomes, 1)?.outcome).toBe('low');
    expect(outcomeOf(outcomes, -4)?.outcome).toBe('none');
  });
  test('goes out with the conditions noted beside it, those that are numbers', () => {
    const check = { checkId: 'stator-ohms', unit: 'ohm' } as CheckView;
    expect(readingOf(check, '3,3', { temperature_c: '60', rest_hours: 'long' })).toEqual({
      checkId: 'stator-ohms',
      value: 3.3,
      unit: 'ohm',
      conditions: { temperature_c: 60 },
    });
    expect(readingOf(check, '3300 mohm', {})).toEqual({ checkId: 'stator-ohms', value: '3300 mohm' });
  });
});

describe('a promise time', () => {
  test('goes to the field and back, with an offset the contract takes', () => {
    const at = toInstant(new Date(2026, 10, 26, 17, 30));
    expect(contract['jobs.update'].input.parse({ jobId: concernId, set: { promiseAt: at } })).toBeTruthy();
    expect(fromField(toField(at))).toBe(at);
    expect(fromField('')).toBeNull();
    expect(fromField('2026-13')).toBeNull();
  });
});
