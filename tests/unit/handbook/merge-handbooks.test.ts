import { describe, expect, test } from 'vitest';
import { type Body, buildBook, type Entry, mergeHandbooks } from '../../../src/handbook/index.ts';
import { Problem } from '../../../src/problem.ts';
import { smallEntries } from './small-handbook.ts';

const bodies = (entries: readonly Entry[]) =>
  new Map(entries.map((entry) => [`${entry.kind} ${entry.id}`, entry.body]));
const edit = (entries: readonly Entry[], id: string, change: (body: Body) => Body): Entry[] => {
  const found = entries.filter(
    (entry) => entry.id === id && entry.kind !== 'component' && entry.kind !== 'part-kind',
  );
  if (found.length !== 1) throw new Error(`there are ${found.length} entries “${id}”`);
  return entries.map((entry) => (entry === found[0] ? { ...entry, body: change(entry.body) } : entry));
};
const without = (entries: readonly Entry[], id: string) => entries.filter((entry) => entry.id !== id);
const base = smallEntries();
const caution = (id: string, avoid: string): Entry => ({
  kind: 'caution',
  id,
  body: { id, signal: 'NOTICE', hazard: 'h', avoid },
  path: 'cautions.yaml',
  line: 0,
});
const set = (name: string, value: unknown) => (body: Body) => ({ ...body, [name]: value });
const get = (entries: readonly Entry[], id: string) =>
  entries.find((entry) => entry.id === id && entry.kind !== 'component' && entry.kind !== 'part-kind')?.body;

describe('one side changed', () => {
  test('nothing on either side changes nothing', () => {
    const { entries, conflicts } = mergeHandbooks(base, base, base);
    expect(conflicts).toEqual([]);
    expect(entries).toEqual(base);
  });

  test('the shipped change is taken, the shop’s is kept', () => {
    const theirs = edit(base, 'horn-open', set('shows', 'Shipped words.'));
    const ours = edit(base, 'horn-button-worn', set('shows_with', 0.5));
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toEqual([]);
    expect(get(entries, 'horn-open')?.shows).toBe('Shipped words.');
    expect(get(entries, 'horn-button-worn')?.shows_with).toBe(0.5);
  });

  test('different fields of one entry go together', () => {
    const theirs = edit(base, 'horn-open', set('shows', 'Shipped words.'));
    const ours = edit(base, 'horn-open', set('fault_mode', 'burnt out'));
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toEqual([]);
    expect(get(entries, 'horn-open')).toMatchObject({ shows: 'Shipped words.', fault_mode: 'burnt out' });
  });

  test('so do different fields inside the repair, and different causes of a check', () => {
    const repair = (more: Body) => (body: Body) => ({
      ...body,
      repair: { ...(body.repair as Body), ...more },
    });
    const when = (more: Body) => (body: Body) => ({ ...body, when: { ...(body.when as Body), ...more } });
    const theirs = edit(
      edit(base, 'horn-open', repair({ minutes: 30 })),
      'horn-hard-press',
      when({ 'horn-open': { silent: 0.9 } }),
    );
    const ours = edit(
      edit(base, 'horn-open', repair({ proof: 'Ride a day.' })),
      'horn-hard-press',
      when({ 'horn-off-key': { sounds: 0.5 } }),
    );
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toEqual([]);
    expect(get(entries, 'horn-open')?.repair).toMatchObject({ minutes: 30, proof: 'Ride a day.' });
    expect(get(entries, 'horn-hard-press')?.when).toMatchObject({
      'horn-open': { silent: 0.9 },
      'horn-off-key': { sounds: 0.5 },
    });
  });

  test('an added field is kept, a removed one stays away', () => {
    const theirs = edit(base, 'horn-open', set('kind', 'consumable'));
    const ours = edit(base, 'horn-button-worn', ({ shows_with: _gone, ...rest }) => rest);
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toEqual([]);
    expect(get(entries, 'horn-open')?.kind).toBe('consumable');
    expect(get(entries, 'horn-button-worn')).not.toHaveProperty('shows_with');
  });

  test('entries added on either side are there, entries removed on one are gone', () => {
    const theirs = [...without(base, 'which-lamp'), caution('shipped', 'x')];
    const ours = [...without(base, 'battery-charged'), caution('shop', 'y')];
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toEqual([]);
    const ids = entries.map((entry) => entry.id);
    expect(ids).toEqual(expect.arrayContaining(['shipped', 'shop']));
    expect(ids).not.toContain('which-lamp');
    expect(ids).not.toContain('battery-charged');
  });

  test('lists without order take additions and removals of both', () => {
    const phrases =
      (...texts: string[]) =>
      (body: Body) => ({ ...body, phrases: texts });
    const theirs = edit(base, 'lighting/horn-dead', phrases('horn is dead', 'no beep', 'shipped'));
    const ours = edit(base, 'lighting/horn-dead', phrases('no beep', 'shop'));
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toEqual([]);
    expect(get(entries, 'lighting/horn-dead')?.phrases).toEqual(['no beep', 'shipped', 'shop']);
  });

  test('both made the same change', () => {
    const same = edit(base, 'horn-open', set('shows', 'Same.'));
    expect(mergeHandbooks(base, same, same).conflicts).toEqual([]);
    const added = [...base, caution('both', 'x')];
    expect(mergeHandbooks(base, added, added)).toEqual({ entries: added, conflicts: [] });
  });
});

describe('both changed', () => {
  test('one field differently: the shop’s stands, and all three are listed', () => {
    const theirs = edit(base, 'horn-open', set('shows', 'Shipped.'));
    const ours = edit(base, 'horn-open', set('shows', 'Shop.'));
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(get(entries, 'horn-open')?.shows).toBe('Shop.');
    expect(conflicts).toEqual([
      {
        kind: 'cause',
        id: 'horn-open',
        field: 'shows',
        base: 'Silent, whatever the button does.',
        theirs: 'Shipped.',
        ours: 'Shop.',
      },
    ]);
  });

  test('a field inside the repair is named', () => {
    const minutes = (n: number) => (body: Body) => ({
      ...body,
      repair: { ...(body.repair as Body), minutes: n },
    });
    const { conflicts } = mergeHandbooks(
      base,
      edit(base, 'horn-open', minutes(30)),
      edit(base, 'horn-open', minutes(40)),
    );
    expect(conflicts).toMatchObject([{ field: 'repair.minutes', base: 20, theirs: 30, ours: 40 }]);
  });

  test('priors and the unlisted share belong together, so that a merge cannot break the sum', () => {
    const prior = (at: number, of_100: number) => (body: Body) => ({
      ...body,
      unlisted_of_100:
        (body.unlisted_of_100 as number) + ((body.priors as Body[])[at]?.of_100 as number) - of_100,
      priors: (body.priors as Body[]).map((each, index) => (index === at ? { ...each, of_100 } : each)),
    });
    const { entries, conflicts } = mergeHandbooks(
      base,
      edit(base, 'horn-dead', prior(0, 38)),
      edit(base, 'horn-dead', prior(1, 25)),
    );
    expect(conflicts).toMatchObject([{ id: 'horn-dead', field: 'priors + unlisted_of_100' }]);
    expect(get(entries, 'horn-dead')).toMatchObject({ unlisted_of_100: 15 });
    expect(buildBook(entries, 'v').findings).toEqual([]);
  });

  test('a value and its basis belong together', () => {
    const theirs = edit(base, 'horn-resistance', set('high', 6));
    const ours = edit(base, 'horn-resistance', set('basis', 'shop-measured'));
    const { entries, conflicts } = mergeHandbooks(base, theirs, ours);
    expect(conflicts).toMatchObject([
      { id: 'horn-resistance', field: 'low + high + unit + conditions + basis' },
    ]);
    expect(get(entries, 'horn-resistance')).toMatchObject({ high: 5, basis: 'shop-measured' });
  });

  test('removed on one side, changed on the other: the shop’s wish stands and is listed', () => {
    const change = edit(base, 'horn-off-key', set('shows', 'Changed.'));
    const kept = mergeHandbooks(base, without(base, 'horn-off-key'), change);
    expect(kept.conflicts).toMatchObject([{ id: 'horn-off-key', field: null, theirs: undefined }]);
    expect(get(kept.entries, 'horn-off-key')?.shows).toBe('Changed.');
    const gone = mergeHandbooks(base, change, without(base, 'horn-off-key'));
    expect(gone.conflicts).toMatchObject([{ id: 'horn-off-key', field: null, ours: undefined }]);
    expect(get(gone.entries, 'horn-off-key')).toBeUndefined();
  });

  test('added on both sides differently', () => {
    const { entries, conflicts } = mergeHandbooks(
      base,
      [...base, caution('new', 'a')],
      [...base, caution('new', 'b')],
    );
    expect(conflicts).toEqual([
      { kind: 'caution', id: 'new', field: 'avoid', base: undefined, theirs: 'a', ours: 'b' },
    ]);
    expect(get(entries, 'new')?.avoid).toBe('b');
  });
});

test('the file the shop moved an entry to stays, else the shipped file counts', () => {
  const move = (entries: readonly Entry[], path: string) =>
    entries.map((entry) => (entry.id === 'fuel-vapor' ? { ...entry, path } : entry));
  const pathOf = (entries: readonly Entry[]) => entries.find((entry) => entry.id === 'fuel-vapor')?.path;
  expect(pathOf(mergeHandbooks(base, move(base, 'cautions-fuel.yaml'), base).entries)).toBe(
    'cautions-fuel.yaml',
  );
  expect(
    pathOf(mergeHandbooks(base, move(base, 'cautions-fuel.yaml'), move(base, 'cautions-shop.yaml')).entries),
  ).toBe('cautions-shop.yaml');
});

test('the order of fields does not count as a change', () => {
  const turned = base.map((entry) => ({
    ...entry,
    body: Object.fromEntries(Object.entries(entry.body).reverse()),
  }));
  const { entries, conflicts } = mergeHandbooks(base, turned, base);
  expect(conflicts).toEqual([]);
  expect(bodies(entries)).toEqual(bodies(base));
});

test('an id twice on one side is refused by name', () => {
  const twice = () => mergeHandbooks(base, base, [...base, ...base.slice(0, 1)]);
  expect(twice).toThrow(Problem);
  expect(twice).toThrow(/“small” is there twice in ours/);
});

test('nothing that was handed in is changed', () => {
  const theirs = edit(base, 'horn-open', set('shows', 'Shipped.'));
  const ours = edit(base, 'horn-open', set('fault_mode', 'x'));
  const before = structuredClone([base, theirs, ours]);
  mergeHandbooks(base, theirs, ours);
  expect([base, theirs, ours]).toEqual(before);
});
