import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openHandler } from '../../../src/api/index.ts';
import { openShop, seedFolder, type TestShop } from '../api/open-shop.ts';
import { loadDemo } from './load-demo.ts';

/**
 * The invented ledger hides two truths: a bad batch of starter relays on one model during the 100 days that ended 20
 * days ago, and drive belts of one supplier that do not last. The reports are not told.
 */
let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
  await loadDemo(shop, 3600, 7);
});
afterAll(() => shop.close());

describe('overview of the invented ledger', () => {
  it('names the bad batch first: cause, model, supplier of what was fitted, months', async () => {
    const { changed } = await shop.call('patterns.overview', {});
    const [first] = changed;
    expect(first?.component).toBe('Starter relay');
    expect(first?.modelId).toBeTruthy();
    expect(first?.parts[0]).toMatchObject({ title: 'Starter relay', supplier: 'Millrace Trade' });
    expect(first?.change.falseShare).toBeLessThan(0.01);
    // The clock of the test stands at the beginning of March: the batch ran from early November to early February.
    expect(['2025-10', '2025-11', '2025-12']).toContain(first?.months?.from);
    expect(['2026-01', '2026-02']).toContain(first?.months?.until);
    expect(first?.says).toContain(first?.model ?? '(no model)');
    // Everything else is chance; at most one false find is let pass, and none stands before the true one.
    expect(changed.length).toBeLessThanOrEqual(2);
  });

  it('names the belts that come back, with their supplier, and no other part', async () => {
    const { cameBack } = await shop.call('patterns.overview', {});
    expect(cameBack.groups.map((group) => group.title)).toEqual(['Drive belt from Pinwheel Supply']);
    expect(cameBack.repairs).toBeGreaterThan(3000);
  });

  it('says what to buy from the use of the year', async () => {
    const { buy } = await shop.call('patterns.overview', {});
    for (const row of buy) {
      expect(row.order).toBeGreaterThan(0);
      expect(row.onHand - row.reserved + row.onOrder).toBeLessThanOrEqual(row.reorderAt);
    }
  });

  it('counts the same as the jobs one by one', async () => {
    const answer = await shop.call('patterns.recurring', { by: 'model', days: 36_600, against: 'none' });
    const all = answer.groups.reduce((sum, group) => sum + group.concerns, 0);
    const { rankings } = await shop.call('patterns.accuracy', { days: 36_600 });
    const comebacks = await shop.call('patterns.comebacks', { days: 36_600 });
    // Proven repairs less those whose diagnosis a comeback took back.
    expect(all).toBe(comebacks.repairs - comebacks.wrongDiagnosis);
    expect(rankings).toBe(all);
    const bySystem = await shop.call('patterns.recurring', { by: 'system', days: 36_600, against: 'none' });
    expect(bySystem.groups.reduce((sum, group) => sum + group.concerns, 0)).toBe(all);
    const last = answer.groups.at(-1);
    expect(last?.cumulative).toBeCloseTo(1, 12);
  });

  it('finds the chances of the book better than plain frequency, and about as often as they say', async () => {
    const { score, bins, first, firstThree } = await shop.call('patterns.accuracy', {});
    expect(score?.shown).toBeLessThan(score?.frequency ?? 0);
    expect(firstThree.held).toBeGreaterThan(first.held);
    const held = bins.reduce((sum, bin) => sum + bin.held, 0);
    const said = bins.reduce((sum, bin) => sum + bin.shown * bin.meanChance, 0);
    // Each ranking's chances add up to 1, and so does what happened, but for causes that a ranking lacked.
    expect(held / said).toBeGreaterThan(0.95);
    expect(held / said).toBeLessThan(1.01);
  });

  it('shows belts of that supplier holding less long than others', async () => {
    const { curves } = await shop.call('patterns.comebacks', {
      partKind: 'drive-belt',
      supplier: 'Pinwheel Supply',
    });
    expect(curves.compared?.p).toBeLessThan(0.01);
    expect(curves.compared?.seen).toBeGreaterThan(curves.compared?.expected ?? 0);
    expect(curves.chosen.at(-1)?.lasts).toBeLessThan(curves.rest.at(-1)?.lasts ?? 0);
  });

  it('never counts by person', async () => {
    const text = JSON.stringify([
      await shop.call('patterns.overview', {}),
      await shop.call('patterns.comebacks', {}),
      await shop.call('patterns.accuracy', {}),
    ]);
    const { technicians } = await shop.call('shop.settings', {});
    expect(technicians.length).toBeGreaterThan(0);
    for (const name of technicians) expect(text).not.toContain(name);
  });

  it('answers the same on the reading connection of the second worker', async () => {
    const reader = await openHandler(
      {
        dataFolder: shop.folder,
        door: 'call',
        seedFolder,
        programVersion: 'test',
        clock: () => ({ ms: Date.parse('2026-03-02T10:00:00Z'), offset: 60 }),
        newId: () => '',
      },
      'report',
    );
    try {
      const there = (await reader.call('patterns.recurring', { by: 'cause' })) as { groups: unknown[] };
      const here = await shop.call('patterns.recurring', { by: 'cause' });
      expect(there.groups).toEqual(here.groups);
      for (const name of ['overview', 'trend', 'comebacks', 'stock', 'accuracy'])
        await reader.call(`patterns.${name}`, {});
    } finally {
      await reader.close();
    }
  });
});
