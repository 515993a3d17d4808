import fc from 'fast-check';
import { expect, test } from 'vitest';
import { judgeReading, readValue } from '../../src/diagnosis/index.ts';
import { chargeOf, restVoltsAt } from '../../src/diagnosis/judge/battery.ts';
import { copperAt, copperAt20 } from '../../src/diagnosis/judge/copper.ts';
import { convert, units } from '../../src/diagnosis/units.ts';
import { book } from '../unit/diagnosis/tiny-book.ts';

const digits = fc.integer({ min: -99_999, max: 99_999 }).map((whole) => whole / 1000);

test('a value means the same with a point, with a comma, with its unit beside it or behind it', () => {
  fc.assert(
    fc.property(digits, fc.constantFrom('V', 'mV', 'kV'), (value, unit) => {
      const possible = { low: -1e6, high: 1e6 };
      const expected = readValue(value, unit, 'V', { possible });
      expect(readValue(`${value} ${unit}`, undefined, 'V', { possible })).toBe(expected);
      // Three digits behind a comma may also be thousands; then it asks, which the examples test.
      const short = Math.round(value * 100) / 100 + 0;
      const withComma = `${short}${unit}`.replace('.', ',');
      expect(readValue(withComma, undefined, 'V', { possible })).toBe(
        readValue(short, unit, 'V', { possible }),
      );
    }),
  );
});

test('no text makes it anything but a number or a problem', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 40 }), (text) => {
      try {
        expect(Number.isNaN(readValue(text, undefined, 'V', { possible: { low: -1, high: 20 } }))).toBe(
          false,
        );
      } catch (error) {
        expect((error as { code?: string }).code).toBe('bad-input');
      }
    }),
  );
});

test('every unit converts there and back', () => {
  fc.assert(
    fc.property(fc.constantFrom(...units), fc.constantFrom(...units), digits, (from, to, value) => {
      if (from.measures !== to.measures) return;
      expect(convert(convert(value, from, to), to, from)).toBeCloseTo(value, 6);
    }),
  );
});

test('copper and battery rules undo themselves', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 1e4, noNaN: true }),
      fc.double({ min: -40, max: 150, noNaN: true }),
      (ohm, celsius) => {
        expect(copperAt20(copperAt(ohm, celsius), celsius) / ohm).toBeCloseTo(1, 9);
      },
    ),
  );
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 100, noNaN: true }),
      fc.double({ min: -17, max: 48, noNaN: true }),
      fc.constantFrom('flooded', 'gel', 'agm'),
      (charge, celsius, battery) => {
        expect(chargeOf(restVoltsAt(charge, celsius, battery), celsius, battery)).toBeCloseTo(charge, 6);
      },
    ),
  );
});

test('more volts at rest never mean a worse verdict, up to full', () => {
  const rank = { bad: 0, low: 1, good: 2, high: 3, 'cannot-say': 4 };
  fc.assert(
    fc.property(
      fc.double({ min: 8, max: 14, noNaN: true }),
      fc.double({ min: 0, max: 2, noNaN: true }),
      fc.double({ min: -15, max: 45, noNaN: true }),
      (volts, more, temperature_c) => {
        const of = (value: number) =>
          rank[
            judgeReading(book({ symptoms: [], causes: [] }), {
              quantity: 'battery-rest-voltage',
              value,
              conditions: { temperature_c, rest_hours: 12 },
            }).verdict
          ];
        expect(of(volts + more)).toBeGreaterThanOrEqual(of(volts));
      },
    ),
  );
});
