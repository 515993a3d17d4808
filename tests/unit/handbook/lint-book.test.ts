import { describe, expect, test } from 'vitest';
import {
  buildBook,
  coverage,
  lintBook,
  readHandbook,
  type WiringChances,
} from '../../../src/handbook/index.ts';
import { codes, lineWith, only, smallFiles, smallWith } from './small-handbook.ts';

type Files = readonly { path: string; text: string }[];
const lint = (files: Files, wiring?: WiringChances) => {
  const { entries, findings } = readHandbook(files);
  const built = buildBook(entries, 'v1');
  const errors = [...findings, ...built.findings].filter((finding) => finding.severity === 'error');
  expect(errors).toEqual([]);
  return lintBook(built.book, { entries, ...(wiring ? { wiring } : {}) });
};
const textOf = (files: Files, path: string): string => files.find((file) => file.path === path)?.text ?? '';
const symptoms = 'systems/lighting/symptoms.yaml';
const causes = 'systems/lighting/causes.yaml';
const checks = 'systems/lighting/checks.yaml';

test('nothing to say about the small handbook', () => expect(lint(smallFiles)).toEqual([]));

test('a symptom without a cheap first check', () => {
  const files = smallWith(
    checks,
    ['kind: listen\n  phone: true\n  minutes: 1', 'kind: listen\n  minutes: 3'],
    ['kind: ask', 'kind: ask\n  wait_minutes: 10'],
  );
  expect(only(lint(files), 'no-cheap-first-check')).toMatchObject({
    severity: 'warning',
    file: symptoms,
    line: 1,
    id: 'horn-dead',
  });
});

test('two minutes by ear are cheap, with a meter they are not', () => {
  const slow: [string, string] = ['kind: ask', 'kind: ask\n  wait_minutes: 10'];
  expect(lint(smallWith(checks, ['phone: true\n  minutes: 1', 'phone: true\n  minutes: 2'], slow))).toEqual(
    [],
  );
  const meter = lint(smallWith(checks, ['kind: listen', 'kind: probe'], slow));
  expect(codes(meter)).toEqual(['no-cheap-first-check']);
});

describe('causes that no check tells apart', () => {
  test('are listed as a group', () => {
    const files = smallWith(checks, ['horn-open: {open: 0.95}', 'horn-open: {open: 0.1}']);
    const findings = lint(files);
    const group = only(findings, 'cannot-tell-apart');
    expect(group).toMatchObject({ file: symptoms, field: 'priors', about: ['horn-open', 'horn-wire-open'] });
    expect(group.message).toMatch(/horn-open, horn-wire-open/);
    // With the last difference gone the check itself is worth nothing any more, and one of three is missing.
    expect(codes(findings).sort()).toEqual(['cannot-tell-apart', 'few-checks', 'unreachable-check']);
  });

  test('a difference of 0.15 is just enough', () => {
    // Healthy reads open with 0.02.
    expect(lint(smallWith(checks, ['horn-open: {open: 0.95}', 'horn-open: {open: 0.17}']))).toEqual([]);
    expect(codes(lint(smallWith(checks, ['horn-open: {open: 0.95}', 'horn-open: {open: 0.16}'])))).toContain(
      'cannot-tell-apart',
    );
  });

  test('what is left over is shared as on a healthy machine', () => {
    // 0.05 named for “fine” leaves 0.95 to “open”: the same as naming “open”.
    expect(lint(smallWith(checks, ['horn-open: {open: 0.95}', 'horn-open: {fine: 0.05}']))).toEqual([]);
  });

  test('causes that no machine has together need no check', () => {
    const files = smallWith(checks, ['horn-open: {open: 0.95}', 'horn-open: {open: 0.1}']).map((file) =>
      file.path === causes
        ? {
            ...file,
            text: file.text.replace('fault_mode: open', 'fault_mode: open\n  on: {fueling: [carburetor]}'),
          }
        : file,
    );
    expect(codes(lint(files))).not.toContain('cannot-tell-apart');
  });

  test('a check that the machine cannot have does not count', () => {
    const files = smallWith(checks, ['instrument: ohmmeter', 'instrument: ohmmeter\n  on: {stroke: [two]}']);
    expect(codes(lint(files)).sort()).toEqual(['cannot-tell-apart', 'few-checks', 'on-no-model']);
  });

  test('the wiring can tell them apart where the table cannot', () => {
    const files = smallWith(
      checks,
      ['horn-open: {open: 0.95}', 'horn-open: {open: 0.1}'],
      [
        '  cautions: [ohmmeter-dead-circuit]',
        '  cautions: [ohmmeter-dead-circuit]\n  probes: [{circuit: loop, instrument: {kind: ohmmeter, lead: neg, tip: feed}, unplugged: [p]}]',
      ],
    );
    const circuit = `id: loop
ground: neg
plugs: {p: {parts: [battery]}}
components:
  - {id: battery, kind: battery, positive: pos, negative: neg, emf_v: 12, resistance_ohm: 0.1}
  - {id: wire, kind: wire, ends: [pos, feed], resistance_ohm: 0.1}
  - {id: horn, kind: resistor, ends: [feed, neg], resistance_ohm: 4}
`;
    const withCircuit = [...files, { path: 'circuits/loop.yaml', text: circuit }];
    const wiring: WiringChances = (checkId, causeId) =>
      checkId === 'horn-ohms' ? (causeId === 'horn-open' ? [0.9, 0.1] : [0.02, 0.98]) : null;
    expect(codes(lint(withCircuit))).toContain('cannot-tell-apart');
    expect(lint(withCircuit, wiring)).toEqual([]);
  });

  test('groups overlap where likeness does not carry over', () => {
    // a~b and b~c, but one check tells a from c.
    const files = smallWith(
      checks,
      ['    horn-open: {silent: 0.97}\n', '    horn-open: {silent: 0.32}\n'],
      ['    horn-button-worn: {sounds: 0.8}\n', '    horn-button-worn: {silent: 0.2}\n'],
      ['    horn-wire-open: {silent: 0.9}\n', '    horn-wire-open: {silent: 0.44}\n'],
      ['horn-open: {open: 0.95}', 'horn-open: {open: 0.03}'],
    );
    const groups = lint(files).filter((finding) => finding.code === 'cannot-tell-apart');
    expect(groups.map((group) => [...(group.about ?? [])].sort())).toEqual([
      ['horn-button-worn', 'horn-open'],
      ['horn-open', 'horn-wire-open'],
    ]);
  });
});

describe('too little', () => {
  test('fewer than four causes', () => {
    const files = smallWith(
      symptoms,
      ['unlisted_of_100: 10', 'unlisted_of_100: 15'],
      ['    - {cause: horn-off-key, of_100: 5, because: "Riders press it with the key off."}\n', ''],
    );
    expect(only(lint(files), 'few-causes')).toMatchObject({
      file: symptoms,
      field: 'priors',
      line: lineWith(textOf(files, symptoms), 'priors:'),
    });
  });

  test('fewer than three checks that separate something', () => {
    const files = smallWith(checks, ['    horn-off-key: {off: 0.9}', '    horn-off-key: {off: 0.1}']);
    expect(only(lint(files), 'few-checks').message).toMatch(/has 2 checks/);
  });

  test('a cause that no symptom lists', () => {
    const extra = textOf(smallFiles, causes).split('- id: horn-off-key')[1] ?? '';
    const text = `${textOf(smallFiles, causes)}- id: horn-stolen${extra.replace('Key was off', 'Horn is gone')}`;
    const files = smallFiles.map((file) => (file.path === causes ? { ...file, text } : file));
    expect(only(lint(files), 'cause-without-symptom')).toMatchObject({ id: 'horn-stolen', file: causes });
  });

  test('a symptom without phrases', () => {
    const files = smallFiles.filter((file) => file.path !== 'phrases/lighting.yaml');
    expect(codes(lint(files))).toEqual(['no-phrases']);
  });
});

test('a check that separates nothing for any symptom', () => {
  const text = `${textOf(smallFiles, checks)}- id: horn-color
  title: Color of the horn
  kind: look
  place: At the bars
  minutes: 1
  steps: [Look.]
  healthy: Black.
  outcomes:
    - {id: black, title: Black, means: Nothing., healthy: 0.5}
    - {id: gray, title: Gray, means: Nothing., healthy: 0.5}
  when:
    horn-open: {black: 0.6}
  basis: common-practice
`;
  const files = smallFiles.map((file) => (file.path === checks ? { ...file, text } : file));
  expect(only(lint(files), 'unreachable-check')).toMatchObject({
    id: 'horn-color',
    file: checks,
    field: 'when',
    line: lineWith(text, 'horn-open: {black') - 1,
  });
  // The check of a precondition is reached through it: volts-rest separates no causes either.
  expect(codes(lint(smallFiles))).not.toContain('unreachable-check');
});

describe('a hazard without its caution', () => {
  test('of the component of a cause', () => {
    const files = smallWith(causes, ['component: horn-wire', 'component: fuel-tank']);
    const finding = only(lint(files), 'missing-caution');
    expect(finding).toMatchObject({ id: 'horn-wire-open', file: causes, severity: 'warning' });
    expect(finding.message).toMatch(/fuel-tank \(fuel\) needs fuel-vapor$/);
    const guarded = smallWith(causes, [
      'component: horn-wire',
      'component: fuel-tank\n  cautions: [fuel-vapor]',
    ]);
    expect(lint(guarded)).toEqual([]);
  });

  test('not where the rider handled it wrongly: there is nothing to repair', () => {
    const files = smallWith(causes, [
      'kind: handling\n  component: horn',
      'kind: handling\n  component: fuel-tank',
    ]);
    expect(lint(files)).toEqual([]);
  });

  test('of the instrument of a check', () => {
    const files = smallWith(checks, ['  cautions: [ohmmeter-dead-circuit]\n', '']);
    expect(only(lint(files), 'missing-caution')).toMatchObject({
      id: 'horn-ohms',
      message: 'instrument ohmmeter needs ohmmeter-dead-circuit',
    });
  });

  test('of the component of the spec that a check measures', () => {
    const files = smallWith('systems/lighting/specs.yaml', ['component: horn', 'component: fuel-tank']);
    expect(only(lint(files), 'missing-caution')).toMatchObject({ id: 'horn-ohms', file: checks });
  });
});

describe('names and values', () => {
  test('two causes under one title', () => {
    const files = smallWith(causes, ['title: Horn wire broken', 'title: "horn open inside "']);
    expect(only(lint(files), 'duplicate-title')).toMatchObject({
      id: 'horn-wire-open',
      about: ['horn-open'],
      field: 'title',
    });
  });

  test('one phrase under two symptoms', () => {
    const other =
      '- {id: horn-odd, title: Horn odd, meaning: Odd., unlisted_of_100: 10, priors: [{cause: horn-open, of_100: 90, because: b}]}\n';
    const files = [
      ...smallFiles.filter((file) => !file.path.startsWith('phrases/lighting')),
      { path: 'systems/lighting/symptoms-2.yaml', text: other },
      { path: 'phrases/lighting.yaml', text: 'horn-dead: [No beep]\nhorn-odd: [no beep]\n' },
    ];
    expect(only(lint(files), 'phrase-twice')).toMatchObject({ id: 'horn-odd', about: ['horn-dead'] });
  });

  test('the healthiest outcome outside of the spec, or in another unit', () => {
    const outside = smallWith('systems/lighting/specs.yaml', ['low: 1, high: 5', 'low: 30, high: 50']);
    expect(only(lint(outside), 'healthy-outside-spec')).toMatchObject({
      id: 'horn-ohms',
      field: 'outcomes[1].range',
    });
    const unit = smallWith('systems/lighting/specs.yaml', ['unit: ohm', 'unit: kohm']);
    expect(only(lint(unit), 'unit-differs-from-spec')).toMatchObject({ field: 'quantity.unit' });
  });

  test('something that no model can have', () => {
    const files = smallWith(causes, [
      'component: horn-button\n',
      'component: horn-button\n  on: {stroke: [two]}\n',
    ]);
    expect(only(lint(files), 'on-no-model')).toMatchObject({ id: 'horn-button-worn', field: 'on' });
  });
});

describe('explained findings', () => {
  const because = 'Both end in a new horn or wire.';
  const broken: [string, string] = ['horn-open: {open: 0.95}', 'horn-open: {open: 0.1}'];
  const explain = (text: string) =>
    smallWith(checks, broken).map((file) =>
      file.path === 'handbook.yaml' ? { ...file, text: `${file.text}explained:\n${text}` } : file,
    );

  test('become notes with the reason', () => {
    const files = explain(
      `  - {code: cannot-tell-apart, id: horn-dead, about: [horn-wire-open, horn-open], because: "${because}"}\n`,
    );
    const finding = only(lint(files), 'cannot-tell-apart');
    expect(finding.severity).toBe('note');
    expect(finding.message).toContain(because);
  });

  test('only for the group they name', () => {
    const files = explain(
      `  - {code: cannot-tell-apart, id: horn-dead, about: [horn-open, horn-button-worn], because: "${because}"}\n`,
    );
    const findings = lint(files);
    expect(only(findings, 'cannot-tell-apart').severity).toBe('warning');
    expect(only(findings, 'explains-nothing')).toMatchObject({
      file: 'handbook.yaml',
      line: 5,
      field: 'explained[0]',
    });
  });
});

test('without entries the findings still say what is wrong', () => {
  const { entries } = readHandbook(smallWith(checks, ['  cautions: [ohmmeter-dead-circuit]\n', '']));
  const [finding] = lintBook(buildBook(entries, 'v1').book);
  expect(finding).toMatchObject({ code: 'missing-caution', id: 'horn-ohms', file: '', line: 0 });
});

test('coverage counts what is there', () => {
  const { book } = buildBook(readHandbook(smallFiles).entries, 'v1');
  const counts = coverage(book);
  expect(counts).toMatchObject({
    symptoms: 1,
    causes: 4,
    checks: 4,
    specs: 1,
    models: 1,
    phrases: 2,
    outOfScope: 1,
    phoneChecks: 2,
  });
  expect(counts.bySystem.lighting).toEqual({ symptoms: 1, causes: 4, checks: 4, specs: 1, phrases: 2 });
  expect(counts.bySystem.fuel).toEqual({ symptoms: 0, causes: 0, checks: 0, specs: 0, phrases: 0 });
  expect(counts.bySymptom).toEqual([
    { symptomId: 'horn-dead', causes: 4, checks: 3, phrases: 2, enough: true },
  ]);
  expect(counts.specsByBasis).toEqual({ 'common-practice': 1 });
});
