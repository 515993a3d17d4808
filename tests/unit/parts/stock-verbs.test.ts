import { afterAll, beforeAll, expect, it } from 'vitest';
import { openShop, type TestShop } from '../api/open-shop.ts';

let shop: TestShop;
let jobId: string;
beforeAll(async () => {
  shop = await openShop();
  const { workId } = await shop.call('parts.importPrices', {
    supplier: 'Invented Supply',
    text: 'number,price,title\nS-100,16.50,Starter relay\n',
    dryRun: false,
  });
  while ((await shop.call('work.get', { workId })).state === 'running')
    await new Promise((resolve) => setTimeout(resolve, 5));
  jobId = (await shop.call('jobs.open', { concerns: [{ words: 'one click' }] })).jobId;
});
afterAll(() => shop.close());

const id = (n: number): string => `01960000-0000-7000-8000-${String(n).padStart(12, '0')}`;
const partNumber = 's 100';

it('a double click counts once, and nothing is taken that is not there', async () => {
  await shop.call('stock.count', { partNumber, onHand: 3, bin: 'A1', minimum: 2 });
  const once = await shop.call('stock.reserve', { moveId: id(1), partNumber, jobId, quantity: 2 });
  const twice = await shop.call('stock.reserve', { moveId: id(1), partNumber, jobId, quantity: 2 });
  expect(twice).toEqual(once);
  expect(once.stock).toMatchObject({ onHand: 3, reserved: 2, free: 1, bin: 'A1' });
  await expect(shop.call('stock.reserve', { moveId: id(1), partNumber, jobId, quantity: 1 })).rejects.toThrow(
    /stands for/,
  );
  await expect(shop.call('stock.reserve', { partNumber, jobId, quantity: 2 })).rejects.toThrow(/1 is free/);
  await expect(shop.call('stock.count', { partNumber, onHand: 1 })).rejects.toThrow(/reserved for jobs/);
});

it('is used from the reserve first, and no more comes back than was taken', async () => {
  const other = (await shop.call('jobs.open', { concerns: [{ words: 'other' }] })).jobId;
  await expect(shop.call('stock.use', { partNumber, jobId: other, quantity: 2 })).rejects.toThrow(
    /1 is free/,
  );
  const used = await shop.call('stock.use', { moveId: id(2), partNumber, jobId, quantity: 1 });
  await shop.call('stock.use', { moveId: id(2), partNumber, jobId, quantity: 1 });
  expect(used).toMatchObject({ stock: { onHand: 2, reserved: 1 }, job: { reserved: 1, used: 1 } });
  await expect(shop.call('stock.return', { partNumber, jobId, quantity: 2 })).rejects.toThrow(/1 is taken/);
  const back = await shop.call('stock.return', { partNumber, jobId, quantity: 1 });
  expect(back).toMatchObject({ stock: { onHand: 3, reserved: 1 }, job: { reserved: 1, used: 0 } });
  expect((await shop.call('stock.release', { partNumber, jobId, quantity: 1 })).stock.free).toBe(3);
});

it('what was ordered for a job is reserved when it arrives, and the job goes on', async () => {
  const expectedAt = '2026-03-05T12:00:00+01:00';
  const order = { orderId: id(3), partNumber, quantity: 2, supplierId: 'invented-supply', jobId, expectedAt };
  expect(await shop.call('stock.order', order)).toMatchObject({
    supplier: 'Invented Supply',
    expectedAt,
    arrived: 0,
  });
  await shop.call('stock.order', order);
  await shop.call('jobs.update', { jobId, set: { status: 'waiting-for-parts' } });
  expect((await shop.call('stock.list', { jobId })).parts[0]?.stock.onOrder).toBe(2);
  expect((await shop.call('stock.arrive', { moveId: id(4), orderId: id(3), quantity: 1 })).jobGoesOn).toBe(
    false,
  );
  await shop.call('stock.arrive', { moveId: id(4), orderId: id(3), quantity: 1 });
  const last = await shop.call('stock.arrive', { moveId: id(5), orderId: id(3), quantity: 1 });
  expect(last).toMatchObject({ jobGoesOn: true, stock: { stock: { onHand: 5, reserved: 2, onOrder: 0 } } });
  expect((await shop.call('jobs.get', { jobId })).status).toBe('in-work');
  await expect(shop.call('stock.arrive', { orderId: id(3), quantity: 1 })).rejects.toThrow(
    /0 are still on order/,
  );
  await expect(shop.call('stock.order', { partNumber, quantity: 1, supplierId: 'nobody' })).rejects.toThrow(
    /no supplier/,
  );
});

it('an old part is held with a claim for the supplier', async () => {
  const held = {
    heldId: id(6),
    jobId,
    partNumber,
    supplierId: 'invented-supply',
    why: 'warranty' as const,
    words: 'coil open after a week',
  };
  const first = await shop.call('stock.hold', held);
  expect(first.claimWords).toContain('coil open after a week');
  expect((await shop.call('stock.hold', { ...held, state: 'sent' })).state).toBe('sent');
  expect((await shop.call('stock.list', {})).held).toHaveLength(1);
});

it('a claim sheet is a PDF for one supplier, with the old parts of any job', async () => {
  const sheet = await shop.call('stock.claim', { heldIds: [id(6)], paper: 'Letter' });
  const bytes = Buffer.from(sheet.base64, 'base64');
  expect(sheet.fileName).toMatch(/^old-parts-invented-supply-2026-03-\d\d\.pdf$/);
  // ISO 32000-1, 7.5.2 and 7.5.5: a file begins with %PDF- and ends with %%EOF; US Letter is 612 by 792 points.
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
  expect(bytes.subarray(-6).toString()).toContain('%%EOF');
  expect(bytes.toString('latin1')).toContain('/MediaBox [0 0 612 792]');
  const hold = (heldId: string, supplierId?: string) =>
    shop.call('stock.hold', {
      heldId,
      jobId,
      partNumber,
      why: 'core',
      words: 'old one',
      ...(supplierId ? { supplierId } : {}),
    });
  await hold(id(7));
  await expect(shop.call('stock.claim', { heldIds: [id(6), id(7)] })).rejects.toMatchObject({
    code: 'bad-input',
    where: { field: 'heldIds[1]' },
    message: expect.stringMatching(/has no supplier/),
  });
  await expect(shop.call('stock.claim', { heldIds: [id(99)] })).rejects.toMatchObject({ code: 'not-found' });
});
