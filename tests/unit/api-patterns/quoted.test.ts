import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from '../api/open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
  await shop.call('shop.settings', { set: { currency: 'USD', laborRate: '60' } });
});
afterAll(() => shop.close());

const usd = (amount: number) => ({ amount, currency: 'USD' });

async function newJob() {
  return shop.call('jobs.open', {
    vehicle: { plate: 'QA 1', modelId: 'pellan-125' },
    concerns: [{ words: 'no click', symptomId: 'start-click' }],
  });
}

async function accept(jobId: string, minutes: number, price: string): Promise<void> {
  const { quoteId } = await shop.call('quotes.draft', {
    jobId,
    lines: [
      { kind: 'labor', words: 'Work', minutes, unitPrice: '60' },
      { kind: 'part', words: 'Relay', partNumber: 'R-1', unitPrice: price },
    ],
  });
  await shop.call('quotes.issue', { quoteId });
  await shop.call('quotes.accept', { quoteId, who: 'Petra', how: 'phone' });
}

const close = (jobId: string, minutes: number | undefined, relays: number) =>
  shop.call('jobs.close', {
    jobId,
    closing: {
      kind: 'proven',
      causes: [{ causeId: 'starter-relay-coil-open' }],
      proof: 'replaced',
      ...(minutes === undefined ? {} : { minutes }),
      parts: [{ description: 'Relay', partNumber: 'r 1', quantity: relays }],
    },
  });

describe('quoted and actual', () => {
  it('says so when there is nothing to compare', async () => {
    expect(await shop.call('patterns.quoted', {})).toMatchObject({
      jobs: 0,
      money: [],
      causes: [],
      furthest: [],
    });
  });

  it('compares closed jobs with all of their accepted quotes, and says what it leaves out', async () => {
    const twice = await newJob();
    await accept(twice.jobId, 30, '20');
    await accept(twice.jobId, 15, '20');
    await close(twice.jobId, 60, 3);

    // Not accepted, still open, and closed without minutes.
    const unasked = await newJob();
    await shop.call('quotes.draft', {
      jobId: unasked.jobId,
      lines: [{ kind: 'labor', words: 'Work', minutes: 10, unitPrice: '60' }],
    });
    await close(unasked.jobId, 500, 1);
    const open = await newJob();
    await accept(open.jobId, 30, '20');
    const timeless = await newJob();
    await accept(timeless.jobId, 30, '20');
    await close(timeless.jobId, undefined, 1);

    const report = await shop.call('patterns.quoted', {});
    // Quoted 45 min and two relays at 20; booked 60 min and three relays.
    expect(report).toMatchObject({
      jobs: 1,
      quotedMinutes: 45,
      actualMinutes: 60,
      money: [{ jobs: 1, quoted: usd(8500), actual: usd(12_000) }],
      minutesRatio: null,
      left: { noMinutes: 1, severalCurrencies: 0 },
      causes: [{ causeId: 'starter-relay-coil-open', jobs: 1 }],
      furthest: [{ jobNumber: twice.number, quoted: usd(8500), actual: usd(12_000) }],
    });
  });

  it('gives quartiles once there are enough jobs, and leaves quotes of two currencies out', async () => {
    for (let k = 0; k < 8; k += 1) {
      const job = await newJob();
      await accept(job.jobId, 60, '20');
      await close(job.jobId, 60 + 6 * k, 1);
    }
    const mixed = await newJob();
    await accept(mixed.jobId, 30, '20');
    await shop.call('shop.settings', { set: { currency: 'EUR' } });
    await accept(mixed.jobId, 30, '20');
    await shop.call('shop.settings', { set: { currency: 'USD' } });
    await close(mixed.jobId, 30, 1);

    const report = await shop.call('patterns.quoted', {});
    expect(report.jobs).toBe(9);
    expect(report.left.severalCurrencies).toBe(1);
    // 1.0, 1.1, 1.2, 1.3, then the 60 of 45 of before, 1.4 … 1.7: the fifth of nine.
    expect(report.minutesRatio?.median).toBeCloseTo(60 / 45, 12);
  });

  it('goes out as a file', async () => {
    const file = await shop.call('patterns.table', { of: 'quoted', format: 'csv', input: {} });
    const text = Buffer.from(file.base64, 'base64').toString('utf8');
    expect(text).toContain('Quoted minutes');
    expect(file.rows).toBe(9);
  });

  it('counts a job in the period of its last closing', async () => {
    shop.pass(400);
    expect((await shop.call('patterns.quoted', { days: 30 })).jobs).toBe(0);
    expect((await shop.call('patterns.quoted', { days: 800 })).jobs).toBe(9);
  });
});
