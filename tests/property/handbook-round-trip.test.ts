import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Body,
  type Entry,
  mergeHandbooks,
  readHandbook,
  writeHandbook,
} from '../../src/handbook/index.ts';

/** fast-check prints its seed and the shrunk case where a property fails. */

const id = fc.stringMatching(/^[a-z0-9]{1,6}(-[a-z0-9]{1,5}){0,2}$/);
/** Any text a person could type: no control characters or half characters, which the book refuses. */
const text = fc
  .string({ unit: 'grapheme', minLength: 1, maxLength: 60 })
  .filter((each) => each.trim() !== '' && !/(?![\t\n\r])[\p{Cc}\p{Cs}\ufffd]/u.test(each));
const tricky = fc.constantFrom(
  'yes',
  'null',
  '12.5',
  'a: b',
  '# x',
  '- x',
  '---',
  '"',
  "'",
  ' x ',
  'a\n\n b\n',
  '\tx',
  '{x',
  ', y',
  'x\r\ny',
  '0o7',
  '|',
  '>',
  '%x',
  '\u2028x',
);
const words = fc.oneof({ weight: 4, arbitrary: text }, { weight: 1, arbitrary: tricky });
const number = fc.double({ noNaN: true, noDefaultInfinity: true }).filter((each) => !Object.is(each, -0));
const value: fc.Arbitrary<unknown> = fc.letrec((tie) => ({
  any: fc.oneof(
    { maxDepth: 3 },
    words,
    number,
    fc.boolean(),
    fc.constant(null),
    fc.array(tie('any'), { maxLength: 4 }),
    tie('map'),
  ),
  map: fc
    .dictionary(fc.stringMatching(/^[a-z_]{1,8}$/), tie('any'), { maxKeys: 4, noNullPrototype: true })
    .filter((map) => !Object.hasOwn(map, '__proto__')),
})).any;
const body = (name: string): fc.Arbitrary<Body> =>
  fc
    .dictionary(
      fc.constantFrom('title', 'hazard', 'avoid', 'steps', 'when', 'cautions', 'priors', 'repair'),
      value,
      { noNullPrototype: true },
    )
    .map((fields) => ({ id: name, ...fields }));

const paths = {
  cause: ['systems/fuel/causes.yaml', 'systems/fuel/causes-2.yaml'],
  caution: ['cautions.yaml'],
  component: ['components.yaml', 'systems/brakes/components.yaml'],
} as const;
const entry: fc.Arbitrary<Entry> = fc
  .tuple(fc.constantFrom('cause', 'caution', 'component'), id, fc.nat(1))
  .chain(([kind, name, which]) =>
    body(name).map((fields) => ({
      kind,
      id: name,
      body: fields,
      path: paths[kind][which] ?? paths[kind][0],
      line: 0,
    })),
  );
const entries = fc.uniqueArray(entry, { selector: (each) => `${each.kind} ${each.id}`, maxLength: 8 });

const keyed = (list: readonly Entry[]) =>
  new Map(list.map((each) => [`${each.kind} ${each.id}`, { body: each.body, path: each.path }]));

test('entries written and read are the entries', () => {
  fc.assert(
    fc.property(entries, (list) => {
      expect(keyed(readHandbook(writeHandbook(list)).entries)).toEqual(keyed(list));
    }),
    { numRuns: 300 },
  );
});

test('a second writing over the first changes no letter', () => {
  fc.assert(
    fc.property(entries, (list) => {
      const files = writeHandbook(list);
      expect(writeHandbook(readHandbook(files).entries, files)).toEqual(files);
    }),
    { numRuns: 150 },
  );
});

test('any other entries written over files read back as they are', () => {
  fc.assert(
    fc.property(entries, entries, fc.boolean(), (before, after, mixed) => {
      const files = writeHandbook(before);
      const known = new Set(after.map((each) => `${each.kind} ${each.id}`));
      const list = mixed
        ? [...after, ...before.filter((each) => !known.has(`${each.kind} ${each.id}`))]
        : after;
      expect(keyed(readHandbook(writeHandbook(list, files)).entries)).toEqual(keyed(list));
    }),
    { numRuns: 200 },
  );
});

test('what only one side changed is taken whole, whichever side it is', () => {
  fc.assert(
    fc.property(entries, entries, (base, changed) => {
      const theirs = mergeHandbooks(base, changed, base);
      expect(theirs.conflicts).toEqual([]);
      expect(keyedBodies(theirs.entries)).toEqual(keyedBodies(changed));
      const ours = mergeHandbooks(base, base, changed);
      expect(ours.conflicts).toEqual([]);
      expect(keyedBodies(ours.entries)).toEqual(keyedBodies(changed));
    }),
    { numRuns: 300 },
  );
});

test('every field that both changed differently is listed, and the shop’s value stands', () => {
  fc.assert(
    fc.property(entries, fc.infiniteStream(words), (base, stream) => {
      const rename = (mark: string) =>
        base.map((each) => ({ ...each, body: { ...each.body, title: `${mark} ${stream.next().value}` } }));
      const [theirs, ours] = [rename('shipped'), rename('shop')];
      const { entries: merged, conflicts } = mergeHandbooks(base, theirs, ours);
      expect(conflicts.map(({ field }) => field)).toEqual(base.map(() => 'title'));
      expect(keyedBodies(merged)).toEqual(keyedBodies(ours));
    }),
    { numRuns: 100 },
  );
});

const keyedBodies = (list: readonly Entry[]) =>
  new Map(list.map((each) => [`${each.kind} ${each.id}`, each.body]));

test('no text whatever makes the reader throw, and every finding has its file and a line of it', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ unit: 'binary', maxLength: 200 }),
        fc.string({ unit: fc.constantFrom(...'-: {}[]#&*!|>\'"%@`,?\n\t ab1~'), maxLength: 80 }),
      ),
      (content) => {
        for (const path of ['causes.yaml', 'handbook.yaml', 'phrases/x.yaml', 'circuits/x.yaml']) {
          for (const finding of readHandbook([{ path, text: content }]).findings) {
            expect(finding.file).toBe(path);
            expect(finding.line).toBeGreaterThanOrEqual(1);
            expect(finding.line).toBeLessThanOrEqual(content.split(/\r\n|\n|\r/).length + 1);
          }
        }
      },
    ),
    { numRuns: 1500 },
  );
});
