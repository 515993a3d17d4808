import { describe, expect, test } from 'vitest';
import {
  type Body,
  type Entry,
  entryText,
  readEntryText,
  readHandbook,
  writeHandbook,
} from '../../../src/handbook/index.ts';
import { Problem } from '../../../src/problem.ts';
import { smallEntries, smallFiles } from './small-handbook.ts';

const bare = (entries: readonly Entry[]) =>
  entries.map(({ kind, id, body, path }) => ({ kind, id, body, path }));
const changed = (id: string, change: (body: Body) => Body): Entry[] =>
  smallEntries().map((entry) => (entry.id === id ? { ...entry, body: change(entry.body) } : entry));
const fileOf = (files: readonly { path: string; text: string }[], path: string): string =>
  files.find((file) => file.path === path)?.text ?? '';

describe('written anew', () => {
  test('reads back as the same entries in the same files', () => {
    const files = writeHandbook(smallEntries());
    expect(bare(readHandbook(files).entries)).toEqual(bare(smallEntries()));
    expect(readHandbook(files).findings).toEqual([]);
  });

  test('never uses anchors for values that happen to be one object', () => {
    const one = { x: ['y'] };
    const body = { id: 'c', signal: one, hazard: one };
    const entry: Entry = { kind: 'caution', id: 'c', body, path: 'cautions.yaml', line: 0 };
    expect(writeHandbook([entry])[0]?.text).toBe('- id: c\n  signal: {x: [y]}\n  hazard: {x: [y]}\n');
  });

  test.each([
    '12.5',
    'yes',
    'null',
    '~',
    'a: b',
    '# no',
    '- x',
    '*a',
    '&a',
    '!t',
    '"q"',
    "it's",
    ' lead',
    'trail ',
    'tab\there',
    'line\nbreak',
    'line\n\nbreak\n',
    'win\r\nline',
    '{a}',
    '[b]',
    'é ü 漢字 😀',
    '2026-01-01',
    '0x1F',
    '1e3',
    '.inf',
    'x'.repeat(400),
    'word '.repeat(90),
    'a\\b',
    '%d',
    '@x',
    '`x`',
    '? q',
    ', c',
    '\u2028',
    '---',
  ])('text that looks like something else stays text: %j', (text) => {
    const entry: Entry = {
      kind: 'caution',
      id: 'c',
      body: { id: 'c', signal: 'NOTICE', hazard: text, avoid: text },
      path: 'cautions.yaml',
      line: 0,
    };
    const files = writeHandbook([entry]);
    expect(readHandbook(files).entries[0]?.body).toEqual(entry.body);
  });
});

describe('written over its files', () => {
  test('without a change every file is the same to the letter', () => {
    expect(writeHandbook(smallEntries(), smallFiles)).toEqual(smallFiles);
  });

  test('a change touches only its own entry', () => {
    const files = writeHandbook(
      changed('fuel-vapor', (body) => ({ ...body, avoid: 'No flame, no spark: none.' })),
      smallFiles,
    );
    expect(fileOf(files, 'cautions.yaml')).toBe(
      fileOf(smallFiles, 'cautions.yaml').replace('avoid: No flame.', 'avoid: "No flame, no spark: none."'),
    );
    for (const file of smallFiles)
      if (file.path !== 'cautions.yaml') expect(fileOf(files, file.path)).toBe(file.text);
  });

  test('inside a changed entry, comments and layout of the rest stay', () => {
    const checks = 'systems/lighting/checks.yaml';
    const commented = smallFiles.map((file) =>
      file.path === checks
        ? {
            ...file,
            text: file.text.replace(
              '    horn-button-worn: {sounds: 0.8}',
              '    # seen often\n    horn-button-worn: {sounds: 0.8}   # hard press helps',
            ),
          }
        : file,
    );
    const entries = readHandbook(commented).entries.map((entry) => {
      if (entry.id !== 'horn-hard-press') return entry;
      const when = {
        ...(entry.body.when as Body),
        'horn-open': { silent: 0.95 },
        'horn-off-key': { sounds: 0.5 },
      };
      return { ...entry, body: { ...entry.body, when } };
    });
    const text = fileOf(writeHandbook(entries, commented), checks);
    const expected = fileOf(commented, checks)
      .replace('horn-open: {silent: 0.97}', 'horn-open: {silent: 0.95}')
      .replace('hard press helps', 'hard press helps\n#NEW')
      .replace(
        'horn-wire-open: {silent: 0.9}',
        'horn-wire-open: {silent: 0.9}\n    horn-off-key: {sounds: 0.5}',
      )
      .replace('\n#NEW', '')
      .replace('0.8}   # hard', '0.8} # hard');
    expect(text).toBe(expected);
  });

  test('an added entry comes at the end, a removed one goes with its comment', () => {
    const added: Entry = {
      kind: 'component',
      id: 'bell',
      body: { id: 'bell', title: 'Bell', system: 'lighting' },
      path: 'components.yaml',
      line: 0,
    };
    const entries = [
      ...smallEntries().filter((entry) => !(entry.kind === 'caution' && entry.id === 'fuel-vapor')),
      added,
    ];
    const files = writeHandbook(entries, smallFiles);
    expect(fileOf(files, 'components.yaml')).toBe(
      `${fileOf(smallFiles, 'components.yaml')}- {id: bell, title: Bell, system: lighting}\n`,
    );
    expect(fileOf(files, 'cautions.yaml')).toMatch(/^# Cautions stand first\.\n- \{id: ohmmeter/);
  });

  test('a comment inside of phrases stays beside them', () => {
    const files = writeHandbook(
      changed('lighting/horn-dead', (body) => ({ ...body, phrases: ['horn is dead', 'no beep', 'no toot'] })),
      smallFiles,
    );
    expect(fileOf(files, 'phrases/lighting.yaml')).toBe(
      'horn-dead:\n  - horn is dead\n  - no beep # shorthand\n  - no toot\n',
    );
  });

  test('a file without entries is left out', () => {
    const files = writeHandbook(
      smallEntries().filter((entry) => entry.kind !== 'question'),
      smallFiles,
    );
    expect(files.map((file) => file.path)).not.toContain('questions.yaml');
    expect(files).toHaveLength(smallFiles.length - 1);
  });

  test('an original that cannot be read is written anew', () => {
    const broken = smallFiles.map((file) =>
      file.path === 'cautions.yaml' ? { ...file, text: '- id: [\n' } : file,
    );
    expect(bare(readHandbook(writeHandbook(smallEntries(), broken)).entries)).toEqual(bare(smallEntries()));
  });
});

describe('refused', () => {
  const entry = smallEntries().find((each) => each.id === 'fuel-vapor') as Entry;
  test.each([
    ['a path outside', [{ ...entry, path: '../cautions.yaml' }], /“\.\.\/cautions\.yaml”/],
    ['a file of another kind', [{ ...entry, path: 'causes.yaml' }], /“fuel-vapor” does not belong there/],
    ['an id twice', [entry, entry], /two entries are the caution “fuel-vapor”/],
    ['an id that is not that of the body', [{ ...entry, id: 'other' }], /“other” does not belong/],
    ['what no file can hold', [{ ...entry, body: { ...entry.body, avoid: new Date(0) } }], /cannot hold/],
  ])('%s', (_name, entries, words) => {
    const write = () => writeHandbook(entries as Entry[]);
    expect(write).toThrow(Problem);
    expect(write).toThrow(words);
  });
});

describe('one entry as text', () => {
  test.each(smallEntries().map((entry) => [`${entry.kind} ${entry.id}`, entry] as const))(
    '%s',
    (_name, entry) => {
      const back = readEntryText(entryText(entry), entry);
      expect(back.findings).toEqual([]);
      expect(back.entries.map(({ kind, id, body, path }) => ({ kind, id, body, path }))).toEqual(
        bare([entry]),
      );
    },
  );

  test('an error names the line of the text', () => {
    const entry = smallEntries().find((each) => each.id === 'fuel-vapor') as Entry;
    const text = entryText(entry).replace('avoid:', 'avoidd:');
    expect(readEntryText(text, entry).findings).toMatchObject([
      { code: 'unknown-field', line: 4, field: 'avoidd' },
    ]);
  });
});
