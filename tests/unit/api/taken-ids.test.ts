import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

// What the contract promises: a taken id without a version is a conflict that names it, never an error of the database.
describe('an id that the program made itself, sent again as if it were new', () => {
  it('is a conflict for a vehicle, and the vehicle stays as it was', async () => {
    const { vehicleId } = await shop.call('vehicles.save', { plate: 'TI 1', year: 2019 });
    await expect(shop.call('vehicles.save', { vehicleId, plate: 'TI 2' })).rejects.toMatchObject({
      code: 'conflict',
      where: { id: vehicleId },
    });
    const { vehicle } = await shop.call('vehicles.get', { vehicleId });
    expect(vehicle).toMatchObject({ plate: 'TI 1', year: 2019, version: 1 });
    const changed = await shop.call('vehicles.save', { vehicleId, ifVersion: 1, plate: 'TI 2' });
    expect(changed).toMatchObject({ plate: 'TI 2', version: 2 });
  });

  it('is a conflict for a customer, and the customer stays as it was', async () => {
    const { customerId } = await shop.call('customers.save', { name: 'Ilka Tarn' });
    await expect(shop.call('customers.save', { customerId, name: 'Somebody' })).rejects.toMatchObject({
      code: 'conflict',
      where: { id: customerId },
    });
    expect((await shop.call('customers.get', { customerId })).customer.name).toBe('Ilka Tarn');
  });

  it('is a conflict for a job and a concern', async () => {
    const job = await shop.call('jobs.open', { vehicle: { plate: 'TI 3' }, concerns: [{ words: 'dead' }] });
    const { jobId } = job;
    const concernId = job.concerns[0]?.concernId ?? '';
    await expect(
      shop.call('jobs.open', { jobId, vehicle: { plate: 'TI 4' }, concerns: [{ words: 'dead' }] }),
    ).rejects.toMatchObject({ code: 'conflict', where: { id: jobId } });
    await expect(
      shop.call('jobs.addConcern', { jobId, concernId, words: 'also smells' }),
    ).rejects.toMatchObject({ code: 'conflict', where: { id: concernId } });
  });

  it('is a conflict for a part number of the catalog', async () => {
    const part = {
      partNumber: 'TI-100',
      title: 'Relay',
      kind: 'starter-relay',
      maker: 'Millrace',
      who: 'Ada',
    };
    await shop.call('parts.save', part);
    await expect(shop.call('parts.save', { ...part, title: 'Another relay' })).rejects.toMatchObject({
      code: 'conflict',
      where: { field: 'partNumber' },
    });
  });
});
