import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeCatalog } from '../../../src/demo/index.ts';
import { partKey, readGtin, refuseCircle } from '../../../src/parts/index.ts';
import type { TestShop } from '../api/open-shop.ts';
import { openDemoShop } from './demo-shop-parts.ts';
import { shippedBook } from './shipped-book.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openDemoShop();
});
afterAll(() => shop.close());

describe('the invented catalog', () => {
  it('has at least 400 parts, one for every kind, with barcodes that check, and chains without circles', () => {
    const book = shippedBook();
    const catalog = makeCatalog(book, 7);
    expect(catalog.parts.length).toBeGreaterThanOrEqual(400);
    expect(new Set(catalog.parts.map((part) => part.id)).size).toBe(catalog.parts.length);
    expect(catalog.parts.filter((part) => !readGtin(part.gtin ?? '').ok)).toEqual([]);
    const kinds = new Set(catalog.parts.map((part) => part.kind));
    expect([...book.partKinds.keys()].filter((kind) => !kinds.has(kind))).toEqual([]);
    catalog.supersessions.forEach((link, index) => {
      refuseCircle(link, catalog.supersessions.slice(0, index));
    });
    expect(makeCatalog(book, 7)).toEqual(catalog);
  });
});

describe('parts.find', () => {
  it('finds a number however it is typed, and by its barcode', async () => {
    const { parts } = await shop.call('parts.find', { text: 'starter relay', limit: 1 });
    const [first] = parts;
    expect(first?.kind).toBe('starter-relay');
    const number = first?.partNumber as string;
    for (const typed of [number, number.toLowerCase(), number.replace(/[ -]/g, ''), number.replace('-', ' ')])
      expect((await shop.call('parts.find', { text: typed })).parts[0]?.partNumber).toBe(number);
    const scanned = String(first?.gtin).slice(1);
    expect((await shop.call('parts.find', { text: scanned })).parts.map((part) => part.partNumber)).toEqual([
      number,
    ]);
    const misread = `${scanned.slice(0, -1)}${(Number(scanned.at(-1)) + 1) % 10}`;
    const none = await shop.call('parts.find', { text: misread });
    expect(none).toMatchObject({ parts: [], note: expect.stringContaining('last digit should be') });
  });

  it('puts the very thing before what is only named after it', async () => {
    const { parts } = await shop.call('parts.find', { text: 'Spark plug', limit: 40 });
    const kinds = parts.map((part) => part.kind);
    expect(kinds).toContain('spark-plug-cap');
    expect(kinds.lastIndexOf('spark-plug')).toBeLessThan(kinds.indexOf('spark-plug-cap'));
  });

  it('narrows by kind, component, model and attributes', async () => {
    const fuses = await shop.call('parts.find', { text: '', kind: 'fuse', attributes: { rating_a: 10 } });
    expect(fuses.parts.map((part) => part.attributes.rating_a)).toEqual([10]);
    const relays = await shop.call('parts.find', {
      text: 'relay',
      modelId: 'tamsu-minnow-50',
      component: 'starter-relay',
    });
    expect(relays.parts.length).toBeGreaterThan(0);
    for (const part of relays.parts) expect(part.maker).toBe('Tamsu');
    await expect(shop.call('parts.find', { text: '' })).rejects.toThrow(/type a number or words/);
    await expect(shop.call('parts.find', { text: 'x', kind: 'no-such-kind' })).rejects.toThrow(
      /no part kind/,
    );
  });
});

describe('parts.fit', () => {
  it('answers for a model and year with price and stock, and near misses with why not', async () => {
    const answer = await shop.call('parts.fit', { modelId: 'pellan-vico-50', year: 2015, kind: 'fuse' });
    expect(answer.fits.map((fit) => fit.position)).toContain('main fuse');
    for (const fit of answer.fits) expect(fit.price?.price.currency).toBe('USD');
    expect(answer.nearMisses.map((miss) => miss.whyNot).join()).toContain(
      'a fuse is never replaced by a larger one',
    );
  });

  it('answers for a vehicle and component', async () => {
    const vehicle = await shop.call('vehicles.save', {
      plate: 'ZZ 1',
      modelId: 'corvia-heron-150',
      year: 2019,
    });
    const answer = await shop.call('parts.fit', { vehicleId: vehicle.vehicleId, component: 'battery' });
    expect(answer.fits[0]?.certainty).toMatch(/fits|replaces/);
    const lithium = answer.nearMisses.find((miss) =>
      miss.attributes.some((one) => one.offered === 'lithium'),
    );
    expect(answer.fits.some((fit) => fit.title.includes('lithium'))).toBe(false);
    expect(lithium === undefined || lithium.whyNot.includes('lithium')).toBe(true);
    await expect(shop.call('parts.fit', { vehicleId: vehicle.vehicleId })).rejects.toThrow(
      /kind or component/,
    );
  });

  it('every kind a likely repair needs has a part for every model that can have it', async () => {
    const { book } = { book: shippedBook() };
    for (const model of book.models.values()) {
      const { fits } = await shop.call('parts.fit', {
        modelId: model.id,
        year: model.years.to,
        kind: 'spark-plug',
      });
      expect(fits.length, model.id).toBeGreaterThan(0);
    }
  });
});

describe('parts.get and vehicles.decode', () => {
  it('shows fitments, replaced numbers and price history', async () => {
    const catalog = makeCatalog(shippedBook(), 7);
    const [link] = catalog.supersessions;
    const got = await shop.call('parts.get', { partNumber: link?.newId as string });
    expect(got.fitments.length).toBeGreaterThan(0);
    expect(got.replaces.flat().map(partKey)).toContain(link?.oldId);
    expect(got.priceHistory).toHaveLength(2);
    const old = await shop.call('parts.get', { partNumber: link?.oldId as string });
    expect(old.part.replacedBy.map((one) => partKey(one.chain[0] as string))).toContain(link?.oldId);
    await expect(shop.call('parts.get', { partNumber: 'NO-1' })).rejects.toThrow(/no part “NO-1”/);
  });

  it('takes any other text as a frame number', async () => {
    expect(await shop.call('vehicles.decode', { vin: 'tm5-004001' })).toMatchObject({
      kind: 'frame',
      vin: 'TM5004001',
      years: [],
    });
  });
});
