import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { nextChecks, type ReadingInput, rankCauses } from '../../src/diagnosis/index.ts';
import { buildBook, readHandbook } from '../../src/handbook/index.ts';
import type { SymptomId } from '../../src/terms.ts';

/**
 * What any mechanic expects of the usual start circuit (relay coil fed through the brake switch, grounded through the
 * start button), asked of the shipped handbook's priors and tables alone. What lamp and meter show comes from the wiring and is asked
 * in wiring-common-practice.test.ts. Common practice, no source.
 */
const root = new URL('../../seed/handbook/', import.meta.url).pathname;
const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.yaml'))
  .map((path) => ({ path: path.replaceAll('\\', '/'), text: readFileSync(join(root, path), 'utf8') }));
const { book } = buildBook(readHandbook(files).entries, 'shipped');
const model = [...book.models.values()].find(
  ({ traits }) => traits.starter === 'relay' && traits.start_button === 'ground-side',
);

const rank = (symptomId: string, readings: ReadingInput[] = []) =>
  rankCauses({ book, symptomId: symptomId as SymptomId, model, tally: [], readings });
const share = (ranking: ReturnType<typeof rank>, pattern: RegExp) =>
  ranking.causes.filter((one) => pattern.test(one.causeId)).reduce((sum, one) => sum + one.probability, 0);

test('slow, laboring cranking: a weak battery or a bad engine ground before the starter', () => {
  const slow = rank('start-slow');
  expect(slow.causes[0]?.causeId).toMatch(/^battery/);
  expect(share(slow, /^battery/)).toBeGreaterThan(share(slow, /^starter-motor/));
  expect(share(slow, /^engine-ground|^frame-ground|ground-strap/)).toBeGreaterThan(
    share(slow, /^starter-motor/),
  );
});

test('no brake lamp with the lever held puts the brake switch first', () => {
  const ranking = rank('start-dead', [{ checkId: 'brake-lamp-with-lever', outcome: 'dark' }]);
  expect(ranking.causes[0]?.causeId).toMatch(/^brake-switch/);
});

test('every symptom of the shipped handbook gets shares and a plan', () => {
  expect(book.symptoms.size).toBeGreaterThan(60);
  for (const symptom of book.symptoms.values()) {
    const input = { book, symptomId: symptom.id, model: null, tally: [] };
    const ranking = rankCauses(input);
    const sum = ranking.causes.reduce((total, one) => total + one.probability, ranking.unlisted);
    expect(Math.abs(sum - 1)).toBeLessThan(1e-12);
    const plan = nextChecks({ ...input, laborPerMinute: 1, partPrice: () => null });
    expect(plan.expectedMinutes).toBeGreaterThan(0);
    for (const view of plan.checks) {
      expect(view.outcomes.reduce((total, one) => total + one.chance, 0)).toBeCloseTo(1, 9);
    }
  }
});
