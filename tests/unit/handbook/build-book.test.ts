import { describe, expect, test } from 'vitest';
import { buildBook, type Entry, readHandbook } from '../../../src/handbook/index.ts';
import { codes, lineWith, only, smallEntries, smallFiles, smallWith } from './small-handbook.ts';

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

describe('the small handbook', () => {
  const { book, findings } = build(smallFiles);

  test('has no findings', () => expect(findings).toEqual([]));

  test('becomes the records of the book with defaults filled in', () => {
    expect(book.version).toBe('v1');
    const symptom = [...book.symptoms.values()][0];
    expect(symptom).toMatchObject({ id: 'horn-dead', system: 'lighting', related: [], unlistedOf100: 10 });
    expect(symptom?.priors[0]).toEqual({ causeId: 'horn-open', of100: 40, because: 'Horns rust.' });
    const worn = [...book.causes.values()].find((cause) => cause.id === 'horn-button-worn');
    expect(worn).toMatchObject({
      kind: 'fault',
      showsWith: 0.7,
      system: 'lighting',
      on: {},
      cautionIds: [],
      wiring: {},
    });
    const open = [...book.causes.values()].find((cause) => cause.id === 'horn-open');
    expect(open?.repair.parts).toEqual([{ kind: 'horn', quantity: 1 }]);
    const check = [...book.checks.values()].find((each) => each.id === 'horn-ohms');
    expect(check).toMatchObject({
      specId: 'horn-resistance',
      waitMinutes: 0,
      phone: false,
      probes: [],
      needs: [],
    });
    expect(check?.outcomes[0]?.range).toEqual({ low: 20, high: null });
    expect(check?.quantity).toEqual({ name: 'resistance', unit: 'ohm', possible: { low: 0, high: 100 } });
    const asked = [...book.checks.values()].find((each) => each.id === 'horn-key-ask');
    expect(asked).toMatchObject({ phone: true, instrument: 'none', place: '' });
  });

  test('a model has the traits of its family with its own on top', () => {
    expect([...book.models.values()][0]?.traits).toEqual({ stroke: 'four', fueling: 'injection' });
  });

  test('phrases and texts are gathered', () => {
    expect([...book.phrases.values()]).toEqual([['horn is dead', 'no beep']]);
    expect(book.outOfScope).toEqual(['my kettle leaks']);
    expect(book.electricDrive).toEqual(['the range of my e-scooter dropped']);
  });

  test('the entries handed in are not changed', () => {
    const entries = smallEntries();
    const before = structuredClone(entries);
    buildBook(entries, 'v1');
    expect(entries).toEqual(before);
  });
});

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

describe('an edit that comes without a file', () => {
  test('is checked for form all the same', () => {
    const edit: Entry = {
      kind: 'component',
      id: 'bell',
      body: { id: 'bell', titel: 'Bell', system: 'lighting' },
      path: 'components.yaml',
      line: 0,
    };
    const { findings, book } = buildBook([...smallEntries(), edit], 'v2');
    expect(only(findings, 'unknown-field')).toMatchObject({
      file: 'components.yaml',
      line: 0,
      id: 'bell',
      field: 'titel',
    });
    expect(book.components.has('bell')).toBe(false);
  });
});

describe('circuits', () => {
  const circuit = `id: horn-loop
title: Horn
ground: neg
controls:
  horn: {positions: [released, pressed], rest: released}
components:
  - {id: battery, kind: battery, positive: pos, negative: neg, emf_v: 12.6, resistance_ohm: 0.02}
  - {id: button, kind: switch, ends: [pos, feed], control: horn, closed_at: [pressed], resistance_ohm: 0.03}
  - {id: horn, kind: resistor, ends: [feed, neg], resistance_ohm: 4}
points:
  horn-feed: {node: feed, title: Feed, electronic: true}
`;
  const withCircuit = (text: string, cause = '', check = '') => {
    const a = smallWith(causes, ['shows_with: 0.7', `shows_with: 0.7${cause}`]);
    const b = smallWith(checks, ['spec: horn-resistance', `spec: horn-resistance${check}`]);
    const merged = a.map((file) =>
      file.path === checks ? (b.find((each) => each.path === checks) ?? file) : file,
    );
    return [...merged, { path: 'circuits/horn-loop.yaml', text }];
  };
  const wiring = (component: string, mode: string) =>
    `\n  wiring: {horn-loop: {faults: [{component: ${component}, mode: ${mode}}]}}`;
  const probe = (instrument: string, more = '') =>
    `\n  probes:\n    - circuit: horn-loop\n      instrument: ${instrument}\n      controls: {horn: pressed}${more}`;

  test('a sound one with faults and probes is taken', () => {
    const files = withCircuit(
      circuit,
      wiring('button', 'resistive'),
      probe('{kind: voltmeter, lead: neg, tip: horn-feed}'),
    );
    const { book, findings } = build(files);
    expect(findings).toEqual([]);
    expect(book.circuits.get('horn-loop')).toMatchObject({ title: 'Horn', ground: 'neg' });
  });

  const cases: [name: string, files: Files, code: string, file: string, words: string][] = [
    [
      'unknown kind',
      withCircuit(circuit.replace('kind: switch', 'kind: swich')),
      'bad-circuit',
      'circuits/horn-loop.yaml',
      'kind: swich',
    ],
    ['unknown component', withCircuit(circuit, wiring('buton', 'resistive')), 'bad-circuit', causes, 'buton'],
    [
      'impossible mode',
      withCircuit(circuit, wiring('button', 'discharged')),
      'bad-circuit',
      causes,
      'discharged',
    ],
    [
      'unknown point',
      withCircuit(circuit, '', probe('{kind: voltmeter, lead: neg, tip: horn-fed}')),
      'bad-probe',
      checks,
      'horn-fed',
    ],
    [
      'test lamp on electronics',
      withCircuit(circuit, '', probe('{kind: test-lamp, lead: neg, tip: horn-feed}')),
      'bad-probe',
      checks,
      'test-lamp',
    ],
    [
      'unknown position',
      withCircuit(circuit, '', probe('{kind: voltmeter, lead: neg, tip: feed}').replace('pressed', 'prest')),
      'bad-circuit',
      checks,
      'prest',
    ],
    [
      'unknown plug',
      withCircuit(
        circuit,
        '',
        probe('{kind: voltmeter, lead: neg, tip: feed}', '\n      unplugged: [no-plug]'),
      ),
      'bad-circuit',
      checks,
      'no-plug',
    ],
  ];
  test.each(cases)('%s', (_name, files, code, file, words) => {
    const finding = only(build(files).findings, code);
    expect(finding).toMatchObject({ severity: 'error', file });
    expect(finding.line).toBe(lineWith(textOf(files, file), words));
  });
});
