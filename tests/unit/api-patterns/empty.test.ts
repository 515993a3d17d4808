import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recurringBy } from '../../../src/api/contract.ts';
import { openShop, type TestShop } from '../api/open-shop.ts';
import { badNumbers } from './bad-numbers.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

describe('reports of an empty ledger', () => {
  it('say what to do instead of showing nothing', async () => {
    const overview = await shop.call('patterns.overview', {});
    expect(overview.remark).toMatch(/^No job is closed yet\./);
    expect(overview).toMatchObject({ changed: [], top: [], buy: [], asked: 0, tested: 0 });
    expect(overview.cameBack.groups).toEqual([]);
    const accuracy = await shop.call('patterns.accuracy', {});
    expect(accuracy.first).toEqual({ held: 0, of: 0, share: 0, low: 0, high: 1 });
    expect(accuracy.score).toBeNull();
    expect((await shop.call('patterns.trend', {})).center).toBeNull();
    expect((await shop.call('patterns.comebacks', {})).groups).toEqual([]);
    const stock = await shop.call('patterns.stock', {});
    expect(stock.rows.every((row) => row.order === 0)).toBe(true);
    for (const answer of [overview, accuracy, stock]) expect(badNumbers(answer)).toEqual([]);
  });

  it.each(recurringBy)('have no group by %s', async (by) => {
    const answer = await shop.call('patterns.recurring', { by });
    expect(answer.groups).toEqual([]);
    expect(answer.period.visits).toBe(0);
  });

  it('refuse a period that ends before it begins, naming the field', async () => {
    await expect(
      shop.call('patterns.recurring', {
        by: 'cause',
        from: '2026-02-01T00:00:00Z',
        until: '2026-01-01T00:00:00Z',
      }),
    ).rejects.toMatchObject({ code: 'bad-input', where: { field: 'from' } });
    await expect(shop.callRaw('patterns.recurring', { by: 'customer' })).rejects.toMatchObject({
      code: 'bad-input',
      where: { field: 'by' },
    });
  });
});

describe('reports of few jobs', () => {
  it('show one closed job as one job, with unknown model and mileage named', async () => {
    const job = await shop.call('jobs.open', {
      vehicle: { plate: 'ONE 1', year: 1926 },
      concerns: [{ words: 'one click and nothing', symptomId: 'start-click' }],
    });
    await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: {
        kind: 'proven',
        causes: [{ causeId: 'starter-relay-contact-open' }],
        proof: 'measured',
        minutes: 30,
        parts: [
          { description: 'Starter relay', kind: 'starter-relay', supplier: 'Millrace Trade', quantity: 1 },
        ],
      },
    });
    shop.pass(1);
    const by = async (key: (typeof recurringBy)[number]) => {
      const answer = await shop.call('patterns.recurring', { by: key });
      expect(badNumbers(answer)).toEqual([]);
      return answer.groups.map((group) => [group.title, group.concerns, group.visits, group.rate]);
    };
    expect(await by('model')).toEqual([['Model not known', 1, 1, null]]);
    expect(await by('mileage')).toEqual([['Mileage not known', 1, 1, null]]);
    expect(await by('age')).toEqual([['over 20 years', 1, 1, null]]);
    expect(await by('supplier')).toEqual([['Millrace Trade', 1, 1, null]]);
    expect(await by('component')).toEqual([['Starter relay', 1, 1, null]]);
    const overview = await shop.call('patterns.overview', {});
    expect(overview.remark).toBeNull();
    expect(overview.period.visits).toBe(1);
    expect(overview.changed).toEqual([]);
    expect(badNumbers(overview)).toEqual([]);
    expect(badNumbers(await shop.call('patterns.trend', {}))).toEqual([]);
    const accuracy = await shop.call('patterns.accuracy', {});
    expect(accuracy.rankings).toBe(1);
    expect(badNumbers(accuracy)).toEqual([]);
  });

  it('count a job that was used up in stock, in whole stretches of 30 days', async () => {
    const stock = await shop.call('patterns.stock', { leadDays: 30 });
    const relay = stock.rows.find((row) => row.kind === 'starter-relay');
    expect(relay?.usedInYear).toBe(1);
    expect(relay?.perMonth).toBeCloseTo(1 / 12, 12);
    expect(stock.leadFrom).toBe('asked');
  });

  it('say that a period lies in the future', async () => {
    const answer = await shop.call('patterns.recurring', { by: 'cause', from: '2031-01-01T00:00:00Z' });
    expect(answer.remark).toBe('This period lies in the future: nothing is closed in it yet.');
    expect(answer.groups).toEqual([]);
  });

  it('name a model that left the book', async () => {
    const job = await shop.call('jobs.open', {
      vehicle: { plate: 'TWO 2' },
      concerns: [{ words: 'click', symptomId: 'start-click' }],
    });
    await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: {
        kind: 'proven',
        causes: [{ words: 'mouse nest' }],
        proof: 'retested',
        retest: 'three starts',
      },
    });
    const { lacking } = await shop.call('patterns.accuracy', {});
    expect(lacking).toEqual([{ words: 'mouse nest', times: 1, jobNumbers: [job.number] }]);
    const answer = await shop.call('patterns.recurring', { by: 'cause' });
    expect(answer.groups.map((group) => group.title)).toContain('Not in the book');
    // A filter by a model that nobody knows finds nothing and breaks nothing.
    const gone = await shop.call('patterns.recurring', { by: 'cause', modelId: 'no-such-model' });
    expect(gone.groups).toEqual([]);
    const trend = await shop.call('patterns.trend', { modelId: 'no-such-model' });
    expect(trend.title).toContain('no-such-model (model no longer in the book)');
  });
});
