import { describe, expect, it } from 'vitest';
import {
  type Catalog,
  type Fitment,
  fitParts,
  isInFrameRange,
  keysFor,
  type Machine,
  type Part,
  partKey,
  refuseCircle,
  resolveReplacement,
} from '../../../src/parts/index.ts';

const part = (id: string, attributes: Part['attributes'] = {}, kind = 'fuse'): Part => ({
  id,
  number: id,
  title: id,
  kind,
  componentId: null,
  maker: 'Invented',
  attributes,
  gtin: null,
});
const fitment = (partId: string, more: Partial<Fitment> = {}): Fitment => ({
  partId,
  modelId: 'minnow',
  familyId: null,
  yearFrom: null,
  yearTo: null,
  frameFrom: null,
  frameTo: null,
  position: null,
  note: null,
  basis: 'demo',
  ...more,
});
const catalog = (parts: Part[], more: Partial<Catalog> = {}): Catalog => ({
  parts: new Map(parts.map((one) => [one.id, one])),
  fitments: [],
  supersessions: [],
  groups: new Map(),
  ...more,
});
const minnow: Machine = { modelId: 'minnow', familyId: 'fifty', year: 2010, frame: null };
const link = (oldId: string, newId: string, quantity = 1) => ({ oldId, newId, quantity, note: null });

describe('numbers as people type them', () => {
  it.each(['ta 123-00456', 'TA12300456', ' Ta.123/004 56 '])('%s', (typed) => {
    expect(partKey(typed)).toBe('TA12300456');
  });
  it('is found with and without leading zeros', () => {
    expect(keysFor('123-45')).toContain('0012345');
    expect(keysFor('000123-45')).toContain('12345');
    expect(keysFor('--')).toEqual([]);
  });
});

describe('parts that fit', () => {
  it('come in order of certainty, each with its reason', () => {
    const amps = (rating_a: number) => ({ form: 'blade', rating_a });
    const parts = [
      part('LISTED', amps(10)),
      part('OLD', amps(10)),
      part('NEW', amps(10)),
      part('EQUAL', amps(10)),
      part('COPY', amps(10)),
      part('BIG', amps(15)),
      part('SMALL', amps(5)),
    ];
    const answer = fitParts(
      catalog(parts, {
        fitments: [fitment('LISTED'), fitment('OLD')],
        supersessions: [link('OLD', 'NEW')],
        groups: new Map([
          ['LISTED', 'g'],
          ['EQUAL', 'g'],
        ]),
      }),
      minnow,
      () => true,
    );
    expect(answer.fits.map((fit) => [fit.part.id, fit.certainty])).toEqual([
      ['LISTED', 'fits'],
      ['NEW', 'replaces'],
      ['EQUAL', 'interchange'],
      ['COPY', 'equal-by-attributes'],
    ]);
    expect(answer.fits[1]?.why).toContain('OLD → NEW');
    const big = answer.nearMisses.find((miss) => miss.part.id === 'BIG');
    expect(big?.whyNot).toMatch(/^15 A instead of 10 A: a fuse is never replaced by a larger one/);
    const rating = big?.attributes.find((attribute) => attribute.name === 'rating_a');
    expect(rating).toMatchObject({ required: '10 A', offered: '15 A', margin: '+5 A', fits: false });
    expect(answer.nearMisses.find((miss) => miss.part.id === 'SMALL')?.whyNot).toContain(
      'blows in normal use',
    );
  });

  it('a larger contact current fits, a coil of other resistance does not', () => {
    const relay = (id: string, coil_ohm: number, contact_a: number) =>
      part(id, { voltage_v: 12, coil_ohm, contact_a, connector: 'two-pin' }, 'starter-relay');
    const answer = fitParts(
      catalog([relay('A', 4, 60), relay('STRONG', 4.2, 100), relay('WEAK', 4, 40), relay('OTHER', 80, 60)], {
        fitments: [fitment('A')],
      }),
      minnow,
      () => true,
    );
    expect(answer.fits.map((fit) => fit.part.id)).toEqual(['A', 'STRONG']);
    expect(answer.nearMisses.map((miss) => miss.part.id).sort()).toEqual(['OTHER', 'WEAK']);
  });

  it('years and frame numbers rule out, and unknown ones are asked for', () => {
    const parts = [part('LATE'), part('FRAME')];
    const more = {
      fitments: [
        fitment('LATE', { yearFrom: 2012, yearTo: 2017 }),
        fitment('FRAME', { frameFrom: 'TM5-004000', frameTo: null }),
      ],
    };
    const early = fitParts(catalog(parts, more), { ...minnow, frame: 'TM5-003999' }, () => true);
    expect(early.fits).toEqual([]);
    expect(early.nearMisses.map((miss) => miss.whyNot).join()).toMatch(
      /fits model years 2012–2017, this one is of 2010/,
    );
    const unknown = fitParts(catalog(parts, more), { ...minnow, year: null }, () => true);
    expect(unknown.fits.map((fit) => fit.why).join()).toMatch(/ask the year.*|read the frame number/);
    expect(unknown.fits).toHaveLength(2);
    expect(isInFrameRange('TM5 004001', 'TM5-004000', null)).toBe(true);
    expect(isInFrameRange('XX5-004001', 'TM5-004000', null)).toBe(false);
  });

  it('a part of another model is not listed, one of the family is', () => {
    const fits = (target: Partial<Fitment>) =>
      fitParts(catalog([part('A')], { fitments: [fitment('A', target)] }), minnow, () => true).fits.length;
    expect(fits({ modelId: 'heron' })).toBe(0);
    expect(fits({ modelId: null, familyId: 'fifty' })).toBe(1);
  });
});

describe('replaced numbers', () => {
  it('are followed to the end, kits included, with how many', () => {
    const links = [link('A', 'B'), link('B', 'C', 2), link('B', 'D')];
    expect(resolveReplacement('A', links)).toEqual([
      { partId: 'C', quantity: 2, chain: ['A', 'B', 'C'] },
      { partId: 'D', quantity: 1, chain: ['A', 'B', 'D'] },
    ]);
    expect(resolveReplacement('C', links)).toEqual([]);
  });
  it('never run in a circle: the chain is shown', () => {
    const links = [link('A', 'B'), link('B', 'C')];
    expect(() => refuseCircle(link('C', 'A'), links)).toThrow('A → B → C → A');
    expect(() => refuseCircle(link('C', 'C'), links)).toThrow('C → C');
    expect(() => refuseCircle(link('C', 'D'), links)).not.toThrow();
    expect(() => resolveReplacement('A', [...links, link('C', 'A')])).toThrow(/circle/);
  });
});
