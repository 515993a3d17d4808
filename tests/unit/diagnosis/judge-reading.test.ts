import { expect, test } from 'vitest';
import type { Spec } from '../../../src/book/index.ts';
import { type JudgeInput, judgeReading } from '../../../src/diagnosis/index.ts';
import type { SpecId } from '../../../src/terms.ts';
import { book } from './tiny-book.ts';

const spec = (id: string, more: Partial<Spec>): Spec => ({
  id: id as SpecId,
  title: `Title of ${id}`,
  componentId: 'starter-relay',
  quantity: 'resistance',
  unit: 'ohm',
  low: null,
  high: null,
  conditions: '',
  on: {},
  modelIds: [],
  basis: { kind: 'common-practice' },
  ...more,
});
const tiny = {
  ...book({ symptoms: [], causes: [] }),
  specs: new Map(
    [
      spec('coil', { low: 3, high: 4.4, conditions: '20 °C, plug parted' }),
      spec('switch', { high: 0.3, conditions: 'plug parted' }),
      spec('rest', {
        quantity: 'voltage',
        unit: 'V',
        low: 12.4,
        conditions: 'eight hours without charge or load',
      }),
      spec('drain', { quantity: 'current', unit: 'mA', high: 1 }),
      spec('ac', { quantity: 'AC voltage', unit: 'V', low: 45 }),
    ].map((one) => [one.id, one]),
  ),
};
const judge = (input: JudgeInput) => judgeReading(tiny, input);
const verdict = (input: JudgeInput) => judge(input).verdict;

test('a coil read hot is judged at 20 °C', () => {
  // 4.629 ohm at 60 °C are 4.00 at 20 °C (IEC 60028).
  const hot = judge({ specId: 'coil', value: 4.629, conditions: { temperature_c: 60 } });
  expect(hot).toMatchObject({ verdict: 'good', value: 4.629 });
  expect(hot.corrected).toBeCloseTo(4.0, 3);
  expect(verdict({ specId: 'coil', value: 4.629 })).toBe('high');
  expect(verdict({ specId: 'coil', value: '0.2 ohm' })).toBe('low');
  expect(verdict({ specId: 'coil', value: 'OL' })).toBe('high');
  expect(judge({ specId: 'coil', value: 3.4, conditions: { lead_ohm: 0.3 } }).corrected).toBe(3.1);
});

test('tenths of an ohm need zeroed leads', () => {
  expect(judge({ specId: 'switch', value: 0.4 }).why).toMatch(/leads/);
  expect(verdict({ specId: 'switch', value: 0.4, conditions: { lead_ohm: 0.2 } })).toBe('good');
  expect(verdict({ specId: 'switch', value: 0.4, conditions: { lead_ohm: 0 } })).toBe('high');
  expect(verdict({ specId: 'switch', value: 3 })).toBe('high');
});

test('the instrument must be able to', () => {
  const clamp = { instrument: 'clamp-ammeter' };
  expect(judge({ specId: 'drain', value: 30, conditions: clamp }).why).toMatch(/clamp cannot resolve/);
  expect(verdict({ specId: 'drain', value: 30, conditions: { instrument: 'series-milliammeter' } })).toBe(
    'high',
  );
  expect(verdict({ quantity: 'key-off-drain', value: '0.3 mA', conditions: clamp })).toBe('cannot-say');
  expect(verdict({ specId: 'ac', value: 50, conditions: { instrument: 'voltmeter' } })).toBe('cannot-say');
  expect(verdict({ specId: 'ac', value: 50, conditions: { instrument: 'ac-voltmeter' } })).toBe('good');
});

test('battery at rest', () => {
  const at27 = { temperature_c: 26.7, rest_hours: 12 };
  expect(judge({ quantity: 'battery-rest-voltage', value: 12.45, conditions: at27 })).toMatchObject({
    verdict: 'good',
    low: 12.45,
  });
  expect(judge({ quantity: 'battery rest voltage', value: '12,24 V', conditions: at27 }).why).toMatch(
    /About 50 % charged/,
  );
  expect(verdict({ quantity: 'battery-rest-voltage', value: 12.24, conditions: at27 })).toBe('low');
  expect(verdict({ quantity: 'battery-rest-voltage', value: 12.6, conditions: { rest_hours: 1 } })).toBe(
    'cannot-say',
  );
  expect(verdict({ quantity: 'battery-rest-voltage', value: 13.4, conditions: at27 })).toBe('high');
  expect(verdict({ quantity: 'battery-rest-voltage', value: 10.2, conditions: at27 })).toBe('bad');
  expect(verdict({ quantity: 'battery-rest-voltage', value: 13.2, conditions: { battery: 'lithium' } })).toBe(
    'cannot-say',
  );
  expect(verdict({ specId: 'rest', value: 12.6, conditions: { rest_hours: 2 } })).toBe('cannot-say');
  // In the cold the same charge shows less: 12.32 V at −17.8 °C is 75 %.
  expect(
    verdict({ quantity: 'rest-voltage', value: 12.32, conditions: { temperature_c: -17.8, rest_hours: 9 } }),
  ).toBe('good');
});

test('load test by temperature, refused below 75 % charge', () => {
  const load = (value: number, conditions: JudgeInput['conditions']) =>
    verdict({ quantity: 'battery-load-voltage', value, conditions });
  expect(load(9.3, { temperature_c: 21, charge_percent: 90 })).toBe('bad');
  expect(load(9.3, { temperature_c: 4, charge_percent: 90 })).toBe('good');
  expect(load(9.3, { temperature_c: 21, charge_percent: 60 })).toBe('cannot-say');
  expect(load(9.3, { charge_percent: 90 })).toBe('cannot-say');
  expect(load(10.5, { temperature_c: 21, charge_percent: 90, cca_a: 120, current_a: 20 })).toBe('cannot-say');
  expect(load(8.0, { temperature_c: 21, charge_percent: 90, cca_a: 120, current_a: 20 })).toBe('bad');
});

test('drop along a cable needs its current, its length and its size', () => {
  const drop = (value: number, conditions: JudgeInput['conditions']) =>
    judge({ quantity: 'voltage-drop', value, conditions });
  // 10 mm², 1.2 m, 60 A: 1.91 ohm/km × 1.2 m × 60 A = 0.1375 V (IEC 60228), 0.1 V for the joints.
  expect(drop(0.2, { length_m: 1.2, area_mm2: 10, current_a: 60 }).verdict).toBe('good');
  expect(drop(0.2, { length_m: 1.2, area_mm2: 10, current_a: 60 }).high).toBeCloseTo(0.2375, 4);
  expect(drop(0.4, { length_m: 1.2, area_mm2: 10, current_a: 60 }).verdict).toBe('high');
  expect(drop(0.4, { length_m: 1.2, area_mm2: 10 }).verdict).toBe('cannot-say');
  expect(drop(0.4, { current_a: 60 }).verdict).toBe('cannot-say');
  expect(verdict({ quantity: 'voltage-drop-supply', value: 0.5 })).toBe('good');
  expect(verdict({ quantity: 'voltage-drop-ground', value: 0.5 })).toBe('high');
});

test('stator to ground goes by its type', () => {
  const ground = (value: number | string, stator?: 'half-wave' | 'three-phase') =>
    verdict({ quantity: 'stator-to-ground', value, conditions: { stator, lead_ohm: 0 } });
  expect(ground(0.8, 'half-wave')).toBe('good');
  expect(ground(0.8, 'three-phase')).toBe('bad');
  expect(ground('OL', 'three-phase')).toBe('good');
  expect(ground('OL', 'half-wave')).toBe('high');
  expect(ground(0.8)).toBe('cannot-say');
});

test('fuse against its load, lamp against its watts, drain', () => {
  const fuse = (value: number) => judge({ quantity: 'fuse-load', value, conditions: { rating_a: 10 } });
  expect(fuse(7).verdict).toBe('good');
  expect(fuse(10).verdict).toBe('high');
  expect(fuse(16).verdict).toBe('bad');
  expect(fuse(16).why).toMatch(/not before 0.25 s and within 50 s.*never fit a larger fuse/);
  const lamp = (value: number) => verdict({ quantity: 'lamp-current', value, conditions: { rated_w: 21 } });
  expect(lamp(1.85)).toBe('good');
  expect(lamp(0.44)).toBe('low');
  expect(lamp(2.6)).toBe('high');
  expect(verdict({ quantity: 'key-off-drain', value: 0.4 })).toBe('good');
  expect(verdict({ quantity: 'key-off-drain', value: 3 })).toBe('high');
  // 80 mA empty half of 6 Ah in 3000 mAh / 80 mA / 24 h = 1.6 days.
  expect(judge({ quantity: 'key-off-drain', value: '0.08 A', conditions: { capacity_ah: 6 } }).why).toMatch(
    /in 1.6 days/,
  );
});

test('what cannot be judged is refused by name', () => {
  expect(() => judge({ specId: 'nothing', value: 1 })).toThrow(/no spec “nothing”/);
  expect(() => judge({ quantity: 'smell', value: 1 })).toThrow(/“smell”.*battery-rest-voltage/);
  expect(() => judge({ value: 1 })).toThrow(/Say what was measured/);
  expect(() => judge({ specId: 'coil', value: -3 })).toThrow(/outside/);
  expect(() => judge({ specId: 'coil', value: '3 V' })).toThrow(/no unit of resistance/);
});
