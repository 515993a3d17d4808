import { describe, expect, test } from 'vitest';
import { buildBook, type Entry, readHandbook } from '../../../src/handbook/index.ts';
import { only, smallEntries, smallFiles } from './small-handbook.ts';

type Files = readonly { path: string; text: string }[];
const build = (files: Files) => {
  const read = readHandbook(files);
  const built = buildBook(read.entries, 'v1');
  return { ...built, findings: [...read.findings, ...built.findings] };
};

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

  test('a second file of texts adds to the first', () => {
    const more = build([
      ...smallFiles,
      { path: 'phrases/out-of-scope-2.yaml', text: 'phrases:\n  - my boiler clicks\n' },
      { path: 'phrases/electric-drive-2.yaml', text: 'phrases:\n  - the pack is swollen\n' },
    ]);
    expect(more.findings).toEqual([]);
    expect(more.book.outOfScope).toEqual(['my kettle leaks', 'my boiler clicks']);
    expect(more.book.electricDrive).toEqual(['the range of my e-scooter dropped', 'the pack is swollen']);
  });

  test('the entries handed in are not changed', () => {
    const entries = smallEntries();
    const before = structuredClone(entries);
    buildBook(entries, 'v1');
    expect(entries).toEqual(before);
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
