import { expect, test } from 'vitest';
import { openShop } from '../unit/api/open-shop.ts';
import { loadDemo } from '../unit/api-patterns/load-demo.ts';

// A vehicle of the invented shop with an advisory could not be opened: the advisory's id was none that the contract allows.

test('every job of the invented shop with an advisory opens, and so does its vehicle', async () => {
  const shop = await openShop();
  try {
    await loadDemo(shop, 100, 7);
    const { jobs } = await shop.call('jobs.list', { limit: 200 });
    let seen = 0;
    for (const { jobId } of jobs) {
      const job = await shop.call('jobs.get', { jobId });
      if (job.advisories.length === 0 || !job.vehicle) continue;
      seen += 1;
      const { vehicleId } = job.vehicle;
      expect((await shop.call('vehicles.get', { vehicleId })).vehicle.vehicleId).toBe(vehicleId);
    }
    expect(seen).toBeGreaterThan(0);
  } finally {
    await shop.close();
  }
});
