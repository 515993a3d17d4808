import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { InputOf } from '../../../src/api/contract.ts';
import { openShop, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

const who = 'Runa';
const add = (partNumber: string, more: Partial<InputOf<'parts.save'>> = {}) =>
  shop.call('parts.save', { partNumber, title: `Fuse ${partNumber}`, kind: 'fuse', who, ...more });
const card = (partNumber: string) => shop.call('parts.card', { partNumber });
const refusal = (field: string, message: RegExp, code = 'bad-input') => ({
  code,
  message: expect.stringMatching(message),
  where: expect.objectContaining({ field }),
});

describe('a part of the catalog', () => {
  it('is added, found by number, words and barcode, and changed with its history', async () => {
    // GTIN-13 with the check digit of the example in the GS1 General Specifications, section 7.9: 629104150021 → 3.
    const made = await add('AB 10-77', {
      title: 'Blade fuse ten',
      maker: 'Brightmoor',
      attributes: { form: 'regular blade', rating_a: 10 },
      gtin: '6291041500213',
      minimum: 2,
      bin: 'C3',
    });
    expect(made).toMatchObject({ version: 1, gtin: '06291041500213', minimum: 2, bin: 'C3', retired: null });
    for (const text of ['ab1077', 'blade ten', 'brightmoor', '6291041500213']) {
      const { parts } = await shop.call('parts.find', { text });
      expect(
        parts.map((part) => part.partNumber),
        text,
      ).toEqual(['AB 10-77']);
    }
    const after = await shop.call('parts.save', {
      partNumber: 'AB-1077',
      ifVersion: 1,
      title: 'Blade fuse, red',
      kind: 'fuse',
      minimum: 4,
      who: 'Lene',
    });
    expect(after).toMatchObject({ partNumber: 'AB-1077', version: 2, maker: 'Brightmoor', minimum: 4 });
    expect(after.attributes).toEqual({ form: 'regular blade', rating_a: 10 });
    expect(after.changes.map((one) => one.who)).toEqual(['Lene', 'Runa']);
    expect(after.changes[0]?.what).toBe(
      'number “AB 10-77” → “AB-1077”; description “Blade fuse ten” → “Blade fuse, red”; minimum 2 → 4',
    );
  });

  it('is not changed by one who saw an older state, nor twice by a double click', async () => {
    const before = await card('AB-1077');
    await expect(add('AB-1077', { ifVersion: 1 })).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringMatching(/version 1, it is now at 2/),
    });
    expect(await card('AB-1077')).toEqual(before);
    const once = await add('TW 1', { attributes: { rating_a: 5 } });
    expect(await add('TW 1', { attributes: { rating_a: 5 } })).toEqual(once);
    await expect(add('tw-1', { attributes: { rating_a: 7.5 } })).rejects.toMatchObject(
      refusal('partNumber', /TW 1 is in the catalog already/, 'conflict'),
    );
  });

  it.each<[string, Partial<InputOf<'parts.save'>> & { partNumber?: string }, string, RegExp, string?]>([
    ['a number without letters or digits', { partNumber: '--' }, 'partNumber', /letters or digits/],
    ['a kind of nobody', { kind: 'flux-part' }, 'kind', /no part kind “flux-part”/, 'not-found'],
    ['a component of nobody', { componentId: 'no-such' }, 'componentId', /no component/, 'not-found'],
    ['a rating in words', { attributes: { rating_a: '10 A' } }, 'attributes.rating_a', /a number of A/],
    ['a rating of 0', { attributes: { rating_a: 0 } }, 'attributes.rating_a', /from 0.5 to 200/],
    ['what a fuse has not', { attributes: { length_mm: 5 } }, 'attributes.length_mm', /a fuse states form/],
    ['a wrong check digit', { gtin: '6291041500214' }, 'gtin', /should be 3/],
    ['a barcode of eleven digits', { gtin: '62910415002' }, 'gtin', /8, 12, 13 or 14 digits/],
    ['a barcode of another part', { gtin: '6291041500213' }, 'gtin', /barcode of AB-1077/, 'conflict'],
    ['nobody who does it', { who: ' ' }, 'who', /write who/],
  ])('refuses %s, naming the field', async (_name, given, field, message, code) => {
    const { partNumber = 'NEW 9', ...more } = given;
    await expect(add(partNumber, more)).rejects.toMatchObject(refusal(field, message, code));
    await expect(card('NEW 9')).rejects.toMatchObject({ code: 'not-found' });
  });

  it('says what a kind states, with the words that others use', async () => {
    const { attributes } = await shop.call('parts.form', { kind: 'fuse' });
    expect(attributes.find((one) => one.name === 'form')).toMatchObject({
      isNumber: false,
      usual: ['regular blade'],
    });
    expect(attributes.find((one) => one.name === 'rating_a')).toMatchObject({ unit: 'A', isNumber: true });
    expect((await shop.call('parts.form', { kind: 'key-blank' })).attributes).toEqual([]);
  });
});

describe('a fitment', () => {
  const tell = async (more: Partial<InputOf<'parts.saveFitment'>>) =>
    shop.call('parts.saveFitment', {
      partNumber: 'AB-1077',
      ifVersion: (await card('AB-1077')).version,
      basis: { kind: 'shop-measured' },
      who,
      ...more,
    });
  const fitting = async (more: Partial<InputOf<'parts.fit'>>) =>
    shop.call('parts.fit', { modelId: 'pellan-125', kind: 'fuse', ...more });

  it('makes the part fit by model, years and frame numbers, is changed and taken away', async () => {
    const { years } = await shop.call('models.get', { modelId: 'pellan-125' });
    const added = await tell({
      modelId: 'pellan-125',
      years: { from: years.from, to: years.from + 2 },
      frames: { from: 'PLN 1000', to: 'PLN 1999' },
      position: 'lamps',
      note: 'behind the left cover',
    });
    const fitmentId = added.fitments[0]?.fitmentId as string;
    expect((await fitting({ year: years.from, frame: 'PLN-1500' })).fits).toMatchObject([
      { partNumber: 'AB-1077', certainty: 'fits', position: 'lamps' },
    ]);
    for (const other of [{ year: years.from + 3 }, { year: years.from, frame: 'PLN 2000' }]) {
      const answer = await fitting(other);
      expect(answer.fits).toEqual([]);
      expect(answer.nearMisses.map((miss) => miss.partNumber)).toEqual(['AB-1077']);
    }
    await tell({ fitmentId, modelId: 'pellan-125', position: 'horn' });
    expect((await fitting({ year: years.from + 3 })).fits[0]?.position).toBe('horn');
    const gone = await shop.call('parts.removeFitment', {
      partNumber: 'AB-1077',
      ifVersion: (await card('AB-1077')).version,
      fitmentId,
      who,
    });
    expect(gone.fitments).toEqual([]);
    expect((await fitting({})).fits).toEqual([]);
    expect(gone.changes[0]?.what).toMatch(/^no longer fits /);
  });

  it('refuses what cannot be, naming the field', async () => {
    const { years } = await shop.call('models.get', { modelId: 'pellan-125' });
    const model = { modelId: 'pellan-125' };
    const cases: [Partial<InputOf<'parts.saveFitment'>>, string, RegExp, string?][] = [
      [{}, 'modelId', /either a model or an engine family/],
      [{ modelId: 'no-such' }, 'modelId', /no model/, 'not-found'],
      [{ familyId: 'no-such' }, 'familyId', /no engine family/, 'not-found'],
      [{ ...model, years: { from: years.to, to: years.from } }, 'years.to', /is before/],
      [{ ...model, years: { from: years.to + 3, to: null } }, 'years.from', /was built from/],
      [{ ...model, frames: { from: 'PLN 20', to: 'PLN 10' } }, 'frames.from', /comes after/],
      [{ ...model, frames: { from: 'PLN 20', to: 'QLN 30' } }, 'frames.from', /do not begin alike/],
      [{ ...model, frames: { from: null, to: 'PLN' } }, 'frames.to', /ends with digits/],
      [{ ...model, basis: { kind: 'published' } }, 'basis.source', /title and section/],
    ];
    const before = await card('AB-1077');
    for (const [given, field, message, code] of cases)
      await expect(tell(given), field).rejects.toMatchObject(refusal(field, message, code));
    expect(await card('AB-1077')).toEqual(before);
  });
});

describe('what ties parts', () => {
  const replace = async (partNumber: string, by: InputOf<'parts.replace'>['by']) =>
    shop.call('parts.replace', { partNumber, ifVersion: (await card(partNumber)).version, by, who });

  it('a number is replaced by one, by a kit, and a circle is refused with the chain shown', async () => {
    for (const number of ['C-1', 'C-2', 'C-3', 'C-4']) await add(number, { attributes: { rating_a: 15 } });
    await replace('C-1', [{ partNumber: 'c2', quantity: 1 }]);
    await replace('C-2', [
      { partNumber: 'C 3', quantity: 2 },
      { partNumber: 'C-4', quantity: 1, note: 'with it' },
    ]);
    const { parts } = await shop.call('parts.find', { text: 'C-1' });
    expect(parts.find((part) => part.partNumber === 'C-1')?.replacedBy).toEqual([
      { partNumber: 'C-3', quantity: 2, chain: ['C-1', 'C-2', 'C-3'] },
      { partNumber: 'C-4', quantity: 1, chain: ['C-1', 'C-2', 'C-4'] },
    ]);
    expect((await shop.call('parts.get', { partNumber: 'C-4' })).replaces).toContainEqual([
      'C-1',
      'C-2',
      'C-4',
    ]);
    await expect(replace('C-4', [{ partNumber: 'C-1', quantity: 1 }])).rejects.toMatchObject(
      refusal('by[0].partNumber', /C-1 → C-2 → C-4 → C-1/),
    );
    await expect(replace('C-4', [{ partNumber: 'C-4', quantity: 1 }])).rejects.toThrow(/C-4 → C-4/);
    await expect(
      replace('C-4', [
        { partNumber: 'TW-1', quantity: 1 },
        { partNumber: 'TW1', quantity: 1 },
      ]),
    ).rejects.toMatchObject(refusal('by[1].partNumber', /twice/));
    expect((await replace('C-2', [])).replacedBy).toEqual([]);
  });

  it('a fuse is never replaced by a larger one, nor called equal to it', async () => {
    await expect(replace('TW-1', [{ partNumber: 'C-1', quantity: 1 }])).rejects.toMatchObject(
      refusal('by[0].partNumber', /never replaced by a larger one/),
    );
    await expect(
      shop.call('parts.equal', {
        partNumber: 'C-1',
        ifVersion: (await card('C-1')).version,
        to: 'TW-1',
        who,
      }),
    ).rejects.toMatchObject(
      refusal('to', /not equal: .*15 A instead of 5 A|not equal: .*5 A instead of 15 A/),
    );
  });

  it('equal parts make one group, which a part can leave', async () => {
    const equal = async (partNumber: string, to: string | null) =>
      shop.call('parts.equal', { partNumber, ifVersion: (await card(partNumber)).version, to, who });
    await equal('C-1', 'C-2');
    await equal('C-3', 'C-4');
    await equal('C-1', 'C-3');
    expect((await card('C-4')).equalParts.map((one) => one.partNumber).sort()).toEqual(['C-1', 'C-2', 'C-3']);
    await equal('C-1', null);
    expect((await card('C-1')).equalParts).toEqual([]);
    expect((await card('C-2')).equalParts.map((one) => one.partNumber).sort()).toEqual(['C-3', 'C-4']);
    await equal('C-2', null);
    await equal('C-3', null);
    expect((await card('C-4')).equalParts).toEqual([]);
  });

  it('what is out of use is not offered, and comes back', async () => {
    const fits = async () =>
      (await shop.call('parts.fit', { modelId: 'pellan-125', kind: 'fuse' })).fits.map(
        (one) => one.partNumber,
      );
    await shop.call('parts.saveFitment', {
      partNumber: 'C-4',
      ifVersion: (await card('C-4')).version,
      modelId: 'pellan-125',
      basis: { kind: 'demo' },
      who,
    });
    expect(await fits()).toContain('C-4');
    const retire = async (retired: boolean) =>
      shop.call('parts.retire', {
        partNumber: 'C-4',
        ifVersion: (await card('C-4')).version,
        retired,
        why: 'melts',
        who,
      });
    expect((await retire(true)).retired?.why).toBe('melts');
    expect(await fits()).not.toContain('C-4');
    await retire(false);
    expect(await fits()).toContain('C-4');
  });
});

describe('a price typed by hand', () => {
  const price = async (more: Partial<InputOf<'parts.setPrice'>>) =>
    shop.call('parts.setPrice', {
      partNumber: 'TW-1',
      ifVersion: (await card('TW-1')).version,
      supplier: 'Invented Supply',
      price: '4.20',
      who,
      ...more,
    });

  it('holds at once, keeps the earlier one in the history, and takes a list after it', async () => {
    await price({});
    const after = await price({ price: '4.5', core: '1.00' });
    expect(after.prices).toMatchObject([
      { supplier: 'Invented Supply', price: { amount: 450, currency: 'USD' }, core: { amount: 100 } },
    ]);
    const { priceHistory } = await shop.call('parts.get', { partNumber: 'TW-1' });
    expect(priceHistory.map((one) => one.price.amount)).toEqual([450, 420]);
    const { workId } = await shop.call('parts.importPrices', {
      supplier: 'Invented Supply',
      text: 'number,price\nTW-1,4.80\n',
      dryRun: false,
    });
    while ((await shop.call('work.get', { workId })).state === 'running')
      await new Promise((resolve) => setTimeout(resolve, 5));
    expect((await card('TW-1')).prices[0]?.price.amount).toBe(480);
    // The mapping of the list is not touched by a typed price.
    await price({ price: '4.90' });
    const { suppliers } = await shop.call('parts.suppliers', {});
    expect(suppliers.find((one) => one.supplierId === 'invented-supply')?.mapping).toMatchObject({
      number: 'number',
      price: 'price',
    });
  });

  it('a barcode that only a price list knows opens the part of the catalog', async () => {
    await add('BC 1', { attributes: { rating_a: 20 } });
    const { workId } = await shop.call('parts.importPrices', {
      supplier: 'Scan Supply',
      text: 'number,price,ean\nBC-1,2.00,4006381333931\n',
      dryRun: false,
    });
    while ((await shop.call('work.get', { workId })).state === 'running')
      await new Promise((resolve) => setTimeout(resolve, 5));
    const { parts } = await shop.call('parts.find', { text: '4006381333931' });
    expect(parts).toMatchObject([{ partNumber: 'BC 1', kind: 'fuse' }]);
  });

  it('refuses what is no price', async () => {
    await expect(price({ price: '4,20' })).rejects.toMatchObject(refusal('price', /such as 72.50/));
    await expect(price({ price: '0.00' })).rejects.toMatchObject(refusal('price', /0 is no price/));
    await expect(price({ supplier: '???' })).rejects.toMatchObject(refusal('supplier', /letters or digits/));
    await expect(price({ currency: 'euro' })).rejects.toMatchObject(refusal('currency', /three letters/));
  });
});
