import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { rateOf } from '../../../src/ledger/index.ts';
import { openShop, type TestShop } from '../api/open-shop.ts';
import { loadDemo } from './load-demo.ts';

const everything = { days: 36_600, against: 'none' } as const;

describe('recurring faults by technician', () => {
  let shop: TestShop;
  beforeAll(async () => {
    shop = await openShop();
    await loadDemo(shop, 1200, 7);
  });
  afterAll(() => shop.close());

  it('stand in the order of the names, whoever has more, and nobody is compared', async () => {
    const all = await shop.call('patterns.recurring', { by: 'technician', days: 365, against: 'before' });
    const names = all.groups.map((group) => group.title);
    expect(names.length).toBeGreaterThan(2);
    // The order of a name list is that of the language (Unicode collation, by the runtime).
    const inOrder = (list: readonly string[]) => list.toSorted(new Intl.Collator('en').compare);
    expect(names).toEqual(inOrder(names));
    for (const group of all.groups) expect(group.change).toBeNull();
    // The same names by fewer of their jobs: the order does not follow the numbers.
    for (const causeId of ['drive-belt-worn', 'starter-relay-contact-open']) {
      const { groups } = await shop.call('patterns.recurring', { by: 'technician', causeId, ...everything });
      expect(groups.map((group) => group.title)).toEqual(inOrder(groups.map((group) => group.title)));
    }
  });

  it('cut short keeps the first names, not the highest numbers', async () => {
    const all = await shop.call('patterns.recurring', { by: 'technician', ...everything });
    const two = await shop.call('patterns.recurring', { by: 'technician', ...everything, limit: 2 });
    expect(two.groups.map((group) => group.key)).toEqual(all.groups.slice(0, 2).map((group) => group.key));
    expect(two.left.groups).toBe(all.groups.length - 2);
  });

  it('add up to all concerns, as the groups by model do', async () => {
    const sum = async (by: 'technician' | 'model' | 'model-year') =>
      (await shop.call('patterns.recurring', { by, ...everything, limit: 500 })).groups.reduce(
        (all, group) => all + group.concerns,
        0,
      );
    expect(await sum('technician')).toBe(await sum('model'));
    expect(await sum('model-year')).toBe(await sum('model'));
  });
});

describe('vehicles in care', () => {
  let shop: TestShop;
  beforeAll(async () => {
    shop = await openShop();
    const known = new Map<string, string>();
    const repair = async (plate: string, year: number, technician: string, causeId: string) => {
      const job = await shop.call('jobs.open', {
        ...(known.has(plate) ? { vehicleId: known.get(plate) } : { vehicle: { plate, year } }),
        technician,
        concerns: [{ words: 'one click and nothing', symptomId: 'start-click' }],
      });
      if (job.vehicle) known.set(plate, job.vehicle.vehicleId);
      await shop.call('jobs.close', {
        jobId: job.jobId,
        closing: {
          kind: 'proven',
          causes: [{ causeId }],
          proof: 'measured',
          minutes: 30,
        },
        ifVersion: job.version,
      });
    };
    // Six repairs of one machine, two each of ten others.
    for (let at = 0; at < 6; at += 1) await repair('ONE 1', 2019, ' Runa ', 'starter-relay-contact-open');
    for (let at = 0; at < 20; at += 1)
      await repair(
        `TEN ${at % 10}`,
        at % 2 === 0 ? 2020 : 2021,
        at === 7 ? '' : 'Tove',
        'battery-discharged',
      );
  });
  afterAll(() => shop.close());

  it('are counted once, however often they came, and carry a rate of their own', async () => {
    const { period, groups } = await shop.call('patterns.recurring', { by: 'cause', ...everything });
    expect(period).toMatchObject({ visits: 26, vehicles: 11 });
    const battery = groups.find((group) => group.key === 'battery-discharged');
    expect(battery).toMatchObject({ concerns: 20, visits: 26, vehicles: 11, rateInCare: null });
    // With enough vehicles it is the same exact interval as that per visits.
    expect(rateOf(20, 25)?.per100).toBe(80);
    expect(battery?.rate).toEqual(rateOf(20, 26));
  });

  it('are those of the group where a cause is picked', async () => {
    const { groups } = await shop.call('patterns.recurring', {
      by: 'model-year',
      causeId: 'starter-relay-contact-open',
      ...everything,
    });
    expect(groups).toMatchObject([{ key: '2019', title: '2019', concerns: 6, visits: 6, vehicles: 1 }]);
  });

  it('and people are named without the spaces somebody typed, jobs of nobody last', async () => {
    const { groups } = await shop.call('patterns.recurring', { by: 'technician', ...everything });
    // Neither from the most nor from the fewest.
    expect(groups.map((group) => [group.title, group.concerns])).toEqual([
      ['Runa', 6],
      ['Tove', 19],
      ['Nobody noted', 1],
    ]);
    const jobs = await shop.call('patterns.jobs', { by: 'technician', key: '', days: 36_600 });
    expect(jobs.all).toBe(1);
    await expect(shop.call('patterns.jobs', { by: 'model-year', key: 'x' })).rejects.toMatchObject({
      code: 'bad-input',
      where: { field: 'key' },
    });
  });
});
