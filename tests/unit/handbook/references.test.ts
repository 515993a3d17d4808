import { describe, expect, test } from 'vitest';
import { buildBook, readHandbook } from '../../../src/handbook/index.ts';
import { codes, only, smallFiles, smallWith } from './small-handbook.ts';

type Files = readonly { path: string; text: string }[];
const build = (files: Files) => {
  const read = readHandbook(files);
  const built = buildBook(read.entries, 'v1');
  return { ...built, findings: [...read.findings, ...built.findings] };
};
const textOf = (files: Files, path: string): string => files.find((file) => file.path === path)?.text ?? '';

const symptoms = 'systems/lighting/symptoms.yaml';
const causes = 'systems/lighting/causes.yaml';
const checks = 'systems/lighting/checks.yaml';
const specs = 'systems/lighting/specs.yaml';

describe('a reference to nothing', () => {
  const cases: [path: string, from: string, to: string, code: string, field: string, words: RegExp][] = [
    [
      symptoms,
      'cause: horn-open',
      'cause: horn-opne',
      'unknown-cause',
      'priors[0].cause',
      /did you mean “horn-open”/,
    ],
    [
      symptoms,
      'meaning:',
      'related: [horn-gone]\n  meaning:',
      'unknown-symptom',
      'related[0]',
      /“horn-gone”/,
    ],
    [
      causes,
      'component: horn-wire',
      'component: wire-horn',
      'unknown-component',
      'component',
      /did you mean “horn-wire”/,
    ],
    [
      causes,
      'parts: [horn]',
      'parts: [{kind: hron, quantity: 1}]',
      'unknown-part-kind',
      'repair.parts[0].kind',
      /did you mean “horn”/,
    ],
    [
      causes,
      'shows_with: 0.7',
      'cautions: [fuel-vapour]',
      'unknown-caution',
      'cautions[0]',
      /did you mean “fuel-vapor”/,
    ],
    [
      causes,
      'shows_with: 0.7',
      'wiring: {horn-loop: {state: healthy}}',
      'unknown-circuit',
      'wiring.horn-loop',
      /“horn-loop”/,
    ],
    [checks, 'spec: horn-resistance', 'spec: horn-ohms', 'unknown-spec', 'spec', /it is the id of a check/],
    [checks, 'cautions: [ohmmeter-dead-circuit]', 'cautions: [x]', 'unknown-caution', 'cautions[0]', /“x”/],
    [
      checks,
      'spec: horn-resistance',
      'needs: [battery-charge]',
      'unknown-precondition',
      'needs[0]',
      /did you mean “battery-charged”/,
    ],
    [
      checks,
      'horn-off-key: {off: 0.9}',
      'horn-off-kye: {off: 0.9}',
      'unknown-cause',
      'when.horn-off-kye',
      /did you mean “horn-off-key”/,
    ],
    [specs, 'component: horn', 'component: horm', 'unknown-component', 'component', /did you mean “horn”/],
    [
      specs,
      'basis:',
      'models: [pellan-vika], basis:',
      'unknown-model',
      'models[0]',
      /did you mean “pellan-vico”/,
    ],
    [
      'preconditions.yaml',
      'check: volts-rest',
      'check: rest-volts',
      'unknown-check',
      'check',
      /did you mean “volts-rest”/,
    ],
    [
      'models.yaml',
      'family: pellan-50',
      'family: pellan-51',
      'unknown-family',
      'family',
      /did you mean “pellan-50”/,
    ],
    [
      'models.yaml',
      'aliases:',
      'circuits: [horn], aliases:',
      'unknown-circuit',
      'circuits[0]',
      /it is the id of a component/,
    ],
    [
      'questions.yaml',
      'silent", symptom: horn-dead',
      'silent", symptom: horn-deaf',
      'unknown-symptom',
      'answers[0].symptom',
      /did you mean “horn-dead”/,
    ],
    [
      'phrases/lighting.yaml',
      'horn-dead:',
      'horn-ded:',
      'unknown-symptom',
      'symptom',
      /did you mean “horn-dead”/,
    ],
  ];
  test.each(cases)('%s: %s → %s', (path, from, to, code, field, words) => {
    const files = smallWith(path, [from, to]);
    const finding = only(build(files).findings, code);
    const wrong = /[a-z]+-[a-z]+|hron|horm|\[x\]/.exec(
      to.replace(/^.*(?:cause|component|kind|check|family|symptom|spec): /s, ''),
    );
    expect(finding).toMatchObject({ severity: 'error', file: path, field });
    expect(finding.message).toMatch(words);
    expect(textOf(files, path).split('\n')[finding.line - 1]).toContain(wrong?.[0] ?? to);
  });

  test('an entry with a wrong field still counts as known, so that one mistake is one finding', () => {
    const { findings, book } = build(
      smallWith(causes, ['shows: Silent, whatever the button does.', 'shws: Silent']),
    );
    expect(codes(findings)).toEqual(['unknown-field']);
    expect([...book.causes.keys()]).not.toContain('horn-open');
  });
});

describe('one id is one thing', () => {
  test('within a kind, with the place of the first', () => {
    const files = [
      ...smallFiles,
      { path: 'components-2.yaml', text: '\n- {id: horn, title: Another, system: lighting}\n' },
    ];
    const finding = only(build(files).findings, 'duplicate-id');
    expect(finding).toMatchObject({ file: 'components-2.yaml', line: 2, id: 'horn' });
    expect(finding.message).toMatch(/components\.yaml:1/);
  });

  test('two kinds may share one', () => {
    expect(codes(build(smallFiles).findings)).not.toContain('duplicate-id');
    expect(textOf(smallFiles, 'components.yaml')).toContain('id: horn,');
    expect(textOf(smallFiles, 'part-kinds.yaml')).toContain('id: horn,');
  });
});
