import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { signalWords, traits } from '../../../src/book/index.ts';
import { buildBook, findingLine, readHandbook, writeHandbook } from '../../../src/handbook/index.ts';

const root = join(import.meta.dirname, '..', '..', '..', 'seed', 'handbook');
const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .map((path) => path.replaceAll('\\', '/'))
  .filter((path) => path.endsWith('.yaml'))
  .sort()
  .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }));
const { entries, findings } = readHandbook(files);
const { book, findings: built } = buildBook(entries, 'shipped');

test('the shipped handbook has no errors', () => {
  const errors = [...findings, ...built].filter((finding) => finding.severity === 'error');
  expect(errors.map(findingLine)).toEqual([]);
});

describe('the round trip of the shipped handbook', () => {
  test('over its own files changes no letter', () => {
    const written = writeHandbook(entries, files);
    expect(written.map((file) => file.path)).toEqual(files.map((file) => file.path));
    for (const file of written)
      expect(file.text === files.find((each) => each.path === file.path)?.text, file.path).toBe(true);
  });

  test('written anew holds the same', () => {
    const again = readHandbook(writeHandbook(entries)).entries;
    const keyed = (list: typeof entries) =>
      new Map(list.map((each) => [`${each.kind} ${each.id}`, [each.path, each.body]]));
    expect(keyed(again)).toEqual(keyed(entries));
  });
});

describe('cautions', () => {
  test('no caution forbids riding without a signal word for injury (NOTICE is property damage only, ANSI Z535.6)', () => {
    for (const caution of book.cautions.values()) {
      expect(signalWords).toContain(caution.signal);
      if (caution.doNotRide) expect(caution.signal, caution.id).not.toBe('NOTICE');
    }
  });

  test('brakes, steering, throttle, fuel leaks and overcharging can forbid riding', () => {
    const forbidding = [...book.cautions.values()]
      .filter((caution) => caution.doNotRide)
      .map((caution) => caution.id);
    expect(forbidding.sort()).toEqual(
      ['brakes', 'fuel-leak', 'overcharge', 'steering', 'throttle'].map((what) => `do-not-ride-${what}`),
    );
  });
});

describe('models', () => {
  test('at least ten from four invented makers, five engine families, 50 to 300 cm³', () => {
    const models = [...book.models.values()];
    expect(models.length).toBeGreaterThanOrEqual(10);
    expect(new Set(models.map((model) => model.maker))).toEqual(
      new Set(['Pellan', 'Corvia', 'Tamsu', 'Nordvik']),
    );
    expect(book.families.size).toBeGreaterThanOrEqual(5);
    for (const family of book.families.values()) {
      expect(family.displacement_cm3).toBeGreaterThanOrEqual(49);
      expect(family.displacement_cm3).toBeLessThanOrEqual(300);
    }
  });

  test('every model has every trait, and every value of every trait is on some model', () => {
    const models = [...book.models.values()];
    for (const [trait, values] of Object.entries(traits)) {
      const seen = models.map((model) => (model.traits as Record<string, string | undefined>)[trait]);
      expect(seen, trait).not.toContain(undefined);
      expect([...new Set(seen)].sort(), trait).toEqual([...values].sort());
    }
  });

  test('what contradicts itself is on no model', () => {
    for (const { id, traits: has } of book.models.values()) {
      // Common practice, no source: an injected engine needs a pump; premix and an oil pump belong to two-strokes.
      if (has.fueling === 'injection') expect(has.fuel_feed, id).toBe('electric-pump');
      if (has.fueling === 'carburetor') expect(has.fuel_feed, id).not.toBe('electric-pump');
      expect(has.oil_feed === 'sump', id).toBe(has.stroke === 'four');
      expect(has.starter === 'none', id).toBe(has.start_button === 'none');
      if (has.starter === 'none') expect(has.kick, id).toBe('yes');
      if (has.stator === 'three-phase') expect(has.headlamp_supply, id).toBe('dc');
      if (has.headlamp_supply === 'ac') expect(has.headlamp, id).toBe('bulb');
    }
  });
});
