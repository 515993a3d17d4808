import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from '../api/open-shop.ts';

// The rules are the shop's own (an approval is for a job and says who, when, how); common practice, no source.

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

const vehicleOf = async (plate: string, name?: string) => {
  const owner = name ? await shop.call('customers.save', { name }) : null;
  return shop.call('vehicles.save', {
    plate,
    modelId: 'corvia-heron-150',
    year: 2020,
    ...(owner ? { customerId: owner.customerId } : {}),
  });
};
const lines = [
  { kind: 'labor' as const, words: 'Renew the relay', minutes: 30, unitPrice: '60.00' },
  { kind: 'fee' as const, words: 'Brake pads', unitPrice: '19.00', safety: true },
];

describe('a quote without a job', () => {
  it('gets a vehicle, loses it again, and is listed with whose it is', async () => {
    const { vehicleId } = await vehicleOf('QZ 11', 'Ada Invented');
    const made = await shop.call('quotes.draft', { lines });
    const given = await shop.call('quotes.draft', {
      quoteId: made.quoteId,
      ifVersion: made.version,
      vehicleId,
    });
    expect(given).toMatchObject({ vehicleId, customer: 'Ada Invented', plate: 'QZ 11' });
    const row = async () =>
      (await shop.call('quotes.list', { free: true })).quotes.find((one) => one.quoteId === made.quoteId);
    expect(await row()).toMatchObject({ vehicleId, whose: 'Ada Invented · QZ 11' });
    const bare = await shop.call('quotes.draft', {
      quoteId: made.quoteId,
      ifVersion: given.version,
      vehicleId: null,
    });
    expect(bare).toMatchObject({ vehicleId: null, customer: null, plate: null });
    expect(await row()).toMatchObject({ vehicleId: null, whose: '' });
  });

  it('goes onto a job of its vehicle, and onto no other', async () => {
    const mine = await vehicleOf('QZ 12', 'Ben Invented');
    const other = await vehicleOf('QZ 13');
    const quote = await shop.call('quotes.draft', { vehicleId: mine.vehicleId, lines });
    const wrong = await shop.call('jobs.open', {
      vehicleId: other.vehicleId,
      concerns: [{ words: 'one click' }],
    });
    await expect(shop.call('quotes.attach', { quoteId: quote.quoteId, jobId: wrong.jobId })).rejects.toThrow(
      /is for QZ 12, job \d+ for QZ 13/,
    );
    const job = await shop.call('jobs.open', {
      vehicleId: mine.vehicleId,
      concerns: [{ words: 'one click' }],
    });
    await expect(
      shop.call('quotes.attach', { quoteId: quote.quoteId, jobId: job.jobId, ifVersion: 7 }),
    ).rejects.toThrow(/meanwhile/);
    const input = { quoteId: quote.quoteId, jobId: job.jobId, ifVersion: quote.version };
    const after = await shop.call('quotes.attach', input);
    expect(after).toMatchObject({ jobId: job.jobId, jobNumber: job.number, state: 'draft' });
    // Sent again because its answer was lost.
    expect((await shop.call('quotes.attach', input)).version).toBe(after.version);
    await expect(shop.call('quotes.attach', { quoteId: quote.quoteId, jobId: wrong.jobId })).rejects.toThrow(
      /belongs to job \d+ already/,
    );
    expect((await shop.call('quotes.list', { jobId: job.jobId })).quotes).toMatchObject([
      { jobNumber: job.number, vehicleId: mine.vehicleId, whose: 'Ben Invented · QZ 12' },
    ]);
  });

  it('stops the job where it was issued, and brings the approval along where it was accepted', async () => {
    const newJob = () =>
      shop.call('jobs.open', { concerns: [{ words: 'lamps are dark' }], status: 'in-work' });
    const issued = await shop.call('quotes.issue', {
      quoteId: (await shop.call('quotes.draft', { lines })).quoteId,
    });
    const first = await newJob();
    await shop.call('quotes.attach', { quoteId: issued.quoteId, jobId: first.jobId });
    expect((await shop.call('jobs.get', { jobId: first.jobId })).status).toBe('awaiting-approval');

    const other = await shop.call('quotes.issue', {
      quoteId: (await shop.call('quotes.draft', { lines })).quoteId,
    });
    const pads = other.lines.find((line) => line.safety)?.lineId ?? '';
    const accepted = await shop.call('quotes.accept', {
      quoteId: other.quoteId,
      who: 'Cleo Invented',
      how: 'phone',
      declinedLineIds: [pads],
    });
    shop.pass(2);
    const second = await newJob();
    const after = await shop.call('quotes.attach', { quoteId: accepted.quoteId, jobId: second.jobId });
    expect(after.gate).toMatchObject({ isCovered: true, approved: { amount: 3000 } });
    const job = await shop.call('jobs.get', { jobId: second.jobId });
    expect(job.approvals).toMatchObject([{ who: 'Cleo Invented', how: 'phone', at: accepted.answer?.at }]);
    expect(job.advisories).toMatchObject([{ state: 'declined', doNotRide: true }]);
  });
});

describe('a part that is out of use', () => {
  it('is neither quoted nor ordered before it was said what replaces it', async () => {
    const who = 'Runa';
    for (const partNumber of ['RT-1', 'RT-2'])
      await shop.call('parts.save', { partNumber, title: `Blade ${partNumber}`, kind: 'fuse', who });
    const priced = await shop.call('parts.setPrice', {
      partNumber: 'RT-1',
      ifVersion: 1,
      supplier: 'Invented Supply',
      price: '4.20',
      who,
    });
    const tied = await shop.call('parts.replace', {
      partNumber: 'RT-1',
      ifVersion: priced.version,
      by: [{ partNumber: 'RT-2', quantity: 2 }],
      who,
    });
    await shop.call('parts.retire', {
      partNumber: 'RT-1',
      ifVersion: tied.version,
      retired: true,
      why: 'melts.',
      who,
    });
    const says = /RT-1 is out of use: melts\. Take 2 × RT-2 in its place\./;
    await expect(shop.call('quotes.add', { partNumber: 'rt 1' })).rejects.toThrow(says);
    const supplierId = priced.prices[0]?.supplierId ?? '';
    const order = { partNumber: 'RT-1', quantity: 1, supplierId };
    await expect(shop.call('stock.order', order)).rejects.toThrow(says);
    expect((await shop.call('stock.list', {})).orders).toEqual([]);
    // Told, a person may still want it.
    const { quote } = await shop.call('quotes.add', { partNumber: 'RT-1', evenRetired: true });
    expect(quote.lines).toMatchObject([{ partNumber: 'RT-1', unitPrice: '4.20' }]);
    expect(await shop.call('stock.order', { ...order, evenRetired: true })).toMatchObject({ quantity: 1 });
  });
});
