import { describe, expect, test } from 'vitest';
import { readHandbook } from '../../../src/handbook/index.ts';
import { codes, only } from './small-handbook.ts';

const read = (text: string, path = 'cautions.yaml') => readHandbook([{ path, text }]);
const good = '- id: fuel-vapor\n  signal: WARNING\n  hazard: Vapor burns.\n  avoid: No flame.\n';

describe('a sound file', () => {
  test('becomes entries with path, line and the body as written', () => {
    const { entries, findings } = read(
      `# first a comment\n\n${good}- {id: b, signal: NOTICE, hazard: h, avoid: a}\n`,
    );
    expect(findings).toEqual([]);
    expect(entries.map(({ kind, id, path, line }) => ({ kind, id, path, line }))).toEqual([
      { kind: 'caution', id: 'fuel-vapor', path: 'cautions.yaml', line: 3 },
      { kind: 'caution', id: 'b', path: 'cautions.yaml', line: 7 },
    ]);
    expect(entries[0]?.body).toEqual({
      id: 'fuel-vapor',
      signal: 'WARNING',
      hazard: 'Vapor burns.',
      avoid: 'No flame.',
    });
    expect(entries[0]?.fieldLines).toMatchObject({ id: 3, signal: 4, avoid: 6 });
  });

  test('yes, no and off are words, not truth values (YAML 1.2 core schema, section 10.3)', () => {
    const text = '- {id: f, title: F, displacement_cm3: 50, traits: {kick: yes, abs: no}}\n';
    const { entries, findings } = read(text, 'families.yaml');
    expect(findings).toEqual([]);
    expect(entries[0]?.body.traits).toEqual({ kick: 'yes', abs: 'no' });
  });

  test('split files are read by how their name starts, in any system folder', () => {
    const { entries } = readHandbook([
      { path: 'systems/fuel/components-2.yaml', text: '- {id: a, title: A}\n' },
      {
        path: 'systems/fuel/part-kinds.yaml',
        text: '- {id: a, title: A, typical_price: "1", basis: demo}\n',
      },
    ]);
    expect(entries.map((entry) => entry.kind)).toEqual(['component', 'part-kind']);
  });

  test('phrases are one entry a symptom and file', () => {
    const { entries, findings } = read(
      'horn-dead:\n  - no beep\n  - silent\ndash-dead: [dark]\n',
      'phrases/lighting.yaml',
    );
    expect(findings).toEqual([]);
    expect(entries.map((entry) => [entry.id, entry.line, entry.body])).toEqual([
      ['lighting/horn-dead', 1, { symptom: 'horn-dead', phrases: ['no beep', 'silent'] }],
      ['lighting/dash-dead', 4, { symptom: 'dash-dead', phrases: ['dark'] }],
    ]);
  });

  test('Windows line ends and a byte order mark are no trouble', () => {
    const { entries, findings } = read(`\ufeff${good.replaceAll('\n', '\r\n')}`);
    expect(findings).toEqual([]);
    expect(entries[0]?.line).toBe(1);
    expect(entries[0]?.body.avoid).toBe('No flame.');
  });
});

describe('text that is no sound YAML', () => {
  const cases: [name: string, text: string, code: string, line: number, words: RegExp][] = [
    ['a tab as indent', '- id: a\n\tsignal: WARNING\n', 'tab-indent', 2, /tab/],
    ['a field twice', `${good}  avoid: Again.\n`, 'duplicate-field', 5, /twice/],
    [
      'an anchor and alias',
      '- id: a\n  signal: WARNING\n  hazard: &h Vapor\n  avoid: *h\n',
      'alias',
      3,
      /“&h”/,
    ],
    ['a merge key', '- &x {id: a}\n- {<<: *x, id: b}\n', 'alias', 1, /write the value out/],
    ['two documents', `${good}---\n${good}`, 'not-yaml', 5, /one document/],
    ['an open bracket', '- id: a\n  on: [one, two\n- id: b\n', 'not-yaml', 3, /YAML/],
    ['an open quote', '- id: "a\n  signal: WARNING\n', 'not-yaml', 3, /YAML/],
    ['a tag', '- !!binary aGVsbG8=\n', 'not-yaml', 1, /tag/],
    ['a tag of somebody else', '- id: !wire a\n', 'not-yaml', 1, /tag/],
    ['a colon in plain text', '- id: a\n  hazard: Danger: it burns\n', 'not-yaml', 2, /YAML/],
    ['bad bytes', '- id: a\n  hazard: caf\ufffd\n', 'bad-character', 2, /UTF-8/],
    ['a NUL', '- id: a\n  hazard: x\u0000\n', 'bad-character', 2, /U\+0000/],
    ['half a character', '- id: a\n  hazard: x\ud83d\n', 'bad-character', 2, /U\+D83D/],
    ['a number as field name', '- id: a\n  12: twelve\n', 'bad-field-name', 2, /“12”/],
    ['nothing as field name', '- id: a\n  ~: x\n', 'bad-field-name', 2, /“~”/],
    ['a prototype as field name', '- id: a\n  __proto__: {x: 1}\n', 'bad-field-name', 2, /__proto__/],
    ['a list as field name', '- id: a\n  ? [x, y]\n  : z\n', 'bad-field-name', 2, /plain text/],
    ['an empty file', '', 'empty-file', 1, /empty/],
    ['only comments', '# nothing yet\n', 'empty-file', 1, /empty/],
    ['a mapping for a list', 'id: a\nsignal: WARNING\n', 'not-a-list', 1, /“- id: …”/],
    ['a word for a list', 'hello\n', 'not-a-list', 1, /“hello”/],
    ['an item that is a word', `${good}- hello\n`, 'not-a-mapping', 5, /entry 2 .*“hello”/],
    ['an item without id', `${good}- signal: WARNING\n`, 'missing-field', 5, /entry 2 .*no id/],
    ['an item with a number as id', '- id: 50\n', 'missing-field', 1, /“?50/],
  ];
  test.each(cases)('%s', (_name, text, code, line, words) => {
    const { findings } = read(text);
    const finding = findings.find((each) => each.code === code);
    expect(codes(findings)).toContain(code);
    expect(finding).toMatchObject({ severity: 'error', file: 'cautions.yaml', line });
    expect(finding?.message).toMatch(words);
  });

  test('a bomb of aliases is refused without being blown up', () => {
    const levels = Array.from(
      { length: 26 },
      (_, i) => `a${i + 1}: &a${i + 1} [${Array(10).fill(`*a${i}`).join(', ')}]`,
    );
    const { entries, findings } = read(`a0: &a0 boom\n${levels.join('\n')}\n`, 'handbook.yaml');
    expect(entries).toEqual([]);
    expect(only(findings, 'alias').line).toBe(1);
  });

  test('brackets nested without end are refused, not run into', () => {
    for (const depth of [200, 60_000]) {
      const { entries, findings } = read(`- id: a\n  hazard: ${'['.repeat(depth)}${']'.repeat(depth)}\n`);
      expect(entries).toEqual([]);
      expect(findings).toHaveLength(1);
      expect(['too-deep', 'not-yaml']).toContain(findings[0]?.code);
    }
  });

  test('a file beyond the limit is refused with its size', () => {
    const { findings } = read(`# ${'x'.repeat(4_000_000)}\n`);
    expect(only(findings, 'file-too-large').message).toMatch(/4,000,000.*4,000,003/);
  });
});

describe('a file in the wrong place', () => {
  test.each([
    ['cause.yaml', /causes\.yaml/],
    ['notes.yaml', /says nothing/],
    ['causes.yml', /\.yaml/],
    ['../cautions.yaml', /inside the handbook/],
    ['/etc/cautions.yaml', /inside the handbook/],
  ])('%s', (path, words) => {
    const { entries, findings } = read(good, path);
    expect(entries).toEqual([]);
    expect(only(findings, 'unknown-file')).toMatchObject({ file: path, line: 1 });
    expect(only(findings, 'unknown-file').message).toMatch(words);
  });

  test('a misspelled system folder suggests the right one', () => {
    const { findings } = read(good, 'systems/lightning/cautions.yaml');
    expect(only(findings, 'unknown-system').message).toMatch(/did you mean “lighting”/);
  });

  test('a circuit under another name than its id', () => {
    const { findings } = read('title: Horn\nid: horn-2\n', 'circuits/horn.yaml');
    expect(only(findings, 'wrong-value')).toMatchObject({ line: 2, field: 'id' });
  });
});

describe('a field that is wrong', () => {
  const cases: [name: string, from: string, to: string, expected: object, words: RegExp][] = [
    [
      'misspelled',
      'avoid:',
      'avoidd:',
      { code: 'unknown-field', line: 4, field: 'avoidd' },
      /did you mean “avoid”/,
    ],
    [
      'unknown',
      'avoid: No flame.',
      'avoid: x\n  colour: red',
      { code: 'unknown-field', line: 5, field: 'colour' },
      /id, signal, hazard/,
    ],
    [
      'missing',
      '  hazard: Vapor burns.\n',
      '',
      { code: 'missing-field', line: 1, field: 'hazard' },
      /“hazard” is missing/,
    ],
    [
      'of the wrong word',
      'WARNING',
      'WARNIGN',
      { code: 'wrong-value', line: 2, field: 'signal' },
      /DANGER.*“WARNIGN”; did you mean “WARNING”/,
    ],
    [
      'a number for text',
      'No flame.',
      '12',
      { code: 'wrong-type', line: 4, field: 'avoid' },
      /expected text, got “12”; write it in quotes/,
    ],
    [
      'a list for text',
      'No flame.',
      '[a, b]',
      { code: 'wrong-type', line: 4, field: 'avoid' },
      /expected text/,
    ],
    [
      'empty',
      'No flame.',
      '"  "',
      { code: 'out-of-range', line: 4, field: 'avoid' },
      /at least 1 characters, got no text/,
    ],
    [
      'nothing',
      'No flame.',
      '',
      { code: 'wrong-type', line: 4, field: 'avoid' },
      /expected text, got “null”/,
    ],
    [
      'too long',
      'No flame.',
      'x'.repeat(2001),
      { code: 'out-of-range', line: 4, field: 'avoid' },
      /at most 2000 characters, got 2001/,
    ],
    [
      'text for a truth value',
      'avoid: No flame.',
      'avoid: x\n  do_not_ride: yes',
      { code: 'wrong-type', line: 5, field: 'do_not_ride' },
      /true or false, got “yes”/,
    ],
    [
      'an id with capitals',
      'id: fuel-vapor',
      'id: Fuel_Vapor',
      { code: 'wrong-form', line: 1, field: 'id' },
      /“Fuel_Vapor”/,
    ],
    [
      'an escaped control character',
      'No flame.',
      '"a\\x07b"',
      { code: 'wrong-value', line: 4, field: 'avoid' },
      /control/,
    ],
  ];
  test.each(cases)('%s', (_name, from, to, expected, words) => {
    expect(good).toContain(from);
    const { entries, findings } = read(good.replace(from, () => to));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ severity: 'error', file: 'cautions.yaml', ...expected });
    expect(findings[0]?.message).toMatch(words);
    expect(entries[0]?.flawed).toBe(true);
  });

  test('deep inside a list the path and the line are those of the field', () => {
    const text = `- id: c
  title: C
  kind: look
  minutes: 1
  steps: [Look.]
  healthy: Fine.
  outcomes:
    - {id: a, title: A, means: m, healthy: 0.5}
    - id: b
      title: B, with a comma
      means: m
      healthy: half
  when:
    some-cause: {a: 2}
  basis: published
`;
    const { findings } = read(text, 'systems/fuel/checks.yaml');
    expect(findings.map(({ field, line, code }) => [field, line, code])).toEqual([
      ['outcomes[1].healthy', 12, 'wrong-type'],
      ['when.some-cause.a', 14, 'out-of-range'],
      ['basis', 15, 'wrong-value'],
    ]);
    expect(findings[2]?.message).toMatch(/\{kind: published, source/);
  });

  test('a comma that ends a text inside braces is explained', () => {
    const text = '- {id: a, signal: NOTICE, hazard: It burns, and smells, avoid: a}\n';
    expect(only(read(text).findings, 'unknown-field').message).toMatch(/“and smells”.*comma.*quotes/);
  });

  test('an unknown trait or value under “on” names the closest', () => {
    const text =
      '- {id: s, title: S, component: c, quantity: q, unit: V, low: 1, conditions: x, on: {stater: [relay], stroke: [three], abs: yes}, basis: demo}\n';
    const { findings } = read(text, 'specs.yaml');
    expect(findings.map(({ field, code }) => [field, code]).sort()).toEqual([
      ['on.abs', 'wrong-type'],
      ['on.stater', 'unknown-field'],
      ['on.stroke[0]', 'wrong-value'],
    ]);
    expect(findings.find((each) => each.field === 'on.stater')?.message).toMatch(
      /did you mean “(starter|stator)”/,
    );
    expect(findings.find((each) => each.field === 'on.abs')?.message).toMatch(/write \[yes\]/);
  });

  test('a spec without basis has a code of its own', () => {
    const text = '- {id: s, title: S, component: c, quantity: q, unit: V, low: 1, conditions: x}\n';
    expect(codes(read(text, 'specs.yaml').findings)).toEqual(['spec-without-basis']);
  });

  test('a price must be written in quotes, a phrase must be text', () => {
    const price = read('- {id: p, title: P, typical_price: 9.50, basis: demo}\n', 'part-kinds.yaml').findings;
    expect(only(price, 'wrong-type').message).toMatch(/write it in quotes/);
    const phrase = read('horn-dead:\n  - fine\n  - 12.5\n', 'phrases/lighting.yaml').findings;
    expect(only(phrase, 'wrong-type')).toMatchObject({ line: 3, field: 'phrases[1]' });
  });
});
