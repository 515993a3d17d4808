import { describe, expect, test } from 'vitest';
import { buildBook, readHandbook } from '../../../src/handbook/index.ts';
import { codes, lineWith, only, smallFiles, smallWith } from './small-handbook.ts';

type Files = readonly { path: string; text: string }[];
const build = (files: Files) => {
  const read = readHandbook(files);
  const built = buildBook(read.entries, 'v1');
  return { ...built, findings: [...read.findings, ...built.findings] };
};
const textOf = (files: Files, path: string): string => files.find((file) => file.path === path)?.text ?? '';

const symptoms = 'systems/lighting/symptoms.yaml';
const checks = 'systems/lighting/checks.yaml';
const specs = 'systems/lighting/specs.yaml';

describe('sums and ranges', () => {
  test('priors and the unlisted share make 100 exactly', () => {
    const files = smallWith(symptoms, ['of_100: 40', 'of_100: 40.5']);
    const finding = only(build(files).findings, 'priors-sum');
    expect(finding).toMatchObject({
      file: symptoms,
      field: 'priors',
      line: lineWith(textOf(files, symptoms), 'priors:'),
    });
    expect(finding.message).toMatch(/100\.5/);
    const split = smallWith(symptoms, ['of_100: 40', 'of_100: 39.9'], ['of_100: 30', 'of_100: 30.1']);
    expect(build(split).findings).toEqual([]);
  });

  test('a cause twice in one symptom', () => {
    const files = smallWith(symptoms, ['cause: horn-button-worn', 'cause: horn-open']);
    expect(only(build(files).findings, 'cause-twice')).toMatchObject({ field: 'priors[1].cause' });
  });

  const cases: [name: string, from: string, to: string, code: string, field: string, words: RegExp][] = [
    [
      'healthy below 1',
      'healthy: 0.02, range',
      'healthy: 0.01, range',
      'healthy-sum',
      'outcomes',
      /make 1, got 0\.99/,
    ],
    ['an outcome twice', '- {id: fine', '- {id: open', 'outcome-twice', 'outcomes[1].id', /“open”/],
    [
      'a certain outcome',
      'horn-off-key: {off: 0.9}',
      'horn-off-key: {off: 1}',
      'certain-outcome',
      'when.horn-off-key.off',
      /0\.01 to 0\.99/,
    ],
    [
      'an unknown outcome',
      'horn-off-key: {off: 0.9}',
      'horn-off-key: {offf: 0.9}',
      'unknown-outcome',
      'when.horn-off-key.offf',
      /did you mean “off”.*on, off/,
    ],
    [
      'chances above 1',
      'horn-off-key: {off: 0.9}',
      'horn-off-key: {off: 0.9, on: 0.2}',
      'chances-sum',
      'when.horn-off-key',
      /1\.1/,
    ],
    [
      'all named, below 1',
      'horn-off-key: {off: 0.9}',
      'horn-off-key: {off: 0.9, on: 0.05}',
      'chances-sum',
      'when.horn-off-key',
      /make 1, got 0\.95/,
    ],
    [
      'a range without quantity',
      'means: Go on., healthy: 0.95',
      'means: Go on., healthy: 0.95, range: [1, null]',
      'range-without-quantity',
      'outcomes[0].range',
      /quantity/,
    ],
    ['a missing range', ', range: [20, null]', '', 'missing-field', 'outcomes[0].range', /range/],
    ['a gap', 'range: [null, 20]', 'range: [null, 19]', 'range-gap', 'outcomes[0].range', /19 to 20/],
    [
      'an overlap',
      'range: [null, 20]',
      'range: [null, 21]',
      'range-overlap',
      'outcomes[0].range',
      /20 to 21/,
    ],
    [
      'not open above',
      'range: [20, null]',
      'range: [20, 90]',
      'range-gap',
      'outcomes[0].range',
      /open above/,
    ],
    ['not open below', 'range: [null, 20]', 'range: [0, 20]', 'range-gap', 'outcomes[1].range', /open below/],
    [
      'possible upside down',
      'possible: [0, 100]',
      'possible: [100, 0]',
      'wrong-order',
      'quantity.possible',
      /\[100, 0\]/,
    ],
  ];
  test.each(cases)('%s', (_name, from, to, code, field, words) => {
    const files = smallWith(checks, [from, to]);
    const finding = only(
      build(files).findings.filter((each) => each.severity === 'error' || code === 'certain-outcome'),
      code,
    );
    expect(finding).toMatchObject({ file: checks, field });
    expect(finding.message).toMatch(words);
    expect(finding.line).toBeGreaterThan(1);
  });

  test('a limit outside of what is possible is a warning', () => {
    const files = smallWith(checks, ['possible: [0, 100]', 'possible: [0, 10]']);
    expect(only(build(files).findings, 'range-not-possible').severity).toBe('warning');
  });

  test('three ranges out of order are found', () => {
    const three = `    - {id: open, title: O, means: m, healthy: 0.02, range: [20, null]}
    - {id: mid, title: M, means: m, healthy: 0.48, range: [null, 5]}
    - {id: fine, title: F, means: m, healthy: 0.5, range: [5, 20]}`;
    const old = textOf(smallFiles, checks)
      .split('\n')
      .filter((line) => /Above 20 ohm|Up to 20 ohm/.test(line))
      .join('\n');
    const { findings } = build(smallWith(checks, [old, three]));
    expect(codes(findings)).toContain('range-gap');
  });

  test('a spec needs a limit, in order', () => {
    expect(
      only(build(smallWith(specs, ['low: 1, high: 5', 'low: null'])).findings, 'missing-field'),
    ).toMatchObject({ field: 'low' });
    expect(only(build(smallWith(specs, ['low: 1', 'low: 6'])).findings, 'wrong-order').message).toMatch(
      /6 to 5 ohm/,
    );
    const demo = build(smallWith(specs, ['basis: common-practice', 'basis: demo'])).findings;
    expect(only(demo, 'demo-value-for-all').severity).toBe('warning');
  });

  test('a precondition names outcomes of its check', () => {
    const { findings } = build(smallWith('preconditions.yaml', ['met_by: [good]', 'met_by: [god]']));
    expect(only(findings, 'unknown-outcome')).toMatchObject({
      field: 'met_by[0]',
      file: 'preconditions.yaml',
      line: 1,
    });
  });

  test('years in order; a system where the folder does not say it', () => {
    expect(
      only(build(smallWith('models.yaml', ['[2010, 2020]', '[2020, 2010]'])).findings, 'wrong-order'),
    ).toMatchObject({ field: 'years' });
    const { findings } = build(
      smallWith('components.yaml', ['title: Horn, system: lighting', 'title: Horn']),
    );
    expect(only(findings, 'missing-field')).toMatchObject({
      field: 'system',
      file: 'components.yaml',
      line: 1,
    });
  });

  test('a check that can never meet a cause it lists', () => {
    const { findings } = build(smallWith(checks, ['phone: true', 'on: {fueling: [carburetor]}']));
    expect(only(findings, 'never-together')).toMatchObject({
      severity: 'warning',
      field: 'when.horn-wire-open',
    });
  });
});
