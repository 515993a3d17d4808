import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TestShop } from '../api/open-shop.ts';
import { openDemoShop } from '../parts/demo-shop-parts.ts';

let shop: TestShop;
let jobId: string;
beforeAll(async () => {
  shop = await openDemoShop();
  await shop.call('quotes.terms', {
    set: {
      taxRates: [{ id: 'full', title: 'Sales tax', percent: '7.5' }],
      usualTaxRateId: 'full',
      taxPer: 'document',
      cashStep: 5,
    },
  });
  const job = await shop.call('jobs.open', {
    vehicle: { plate: 'QU 1', modelId: 'corvia-heron-150', year: 2020 },
    customer: { name: 'Petra Invented' },
    concerns: [{ words: 'one click when I press start' }],
  });
  jobId = job.jobId;
});
afterAll(() => shop.close());

const usd = (amount: number) => ({ amount, currency: 'USD' });

describe('a free quote', () => {
  it('counts, has versions, and is the same when sent twice', async () => {
    const quoteId = '01960000-0000-7000-8000-000000000001';
    const input = {
      quoteId,
      title: 'Tires',
      lines: [
        { kind: 'part' as const, words: 'Tire', quantity: '2', unitPrice: '46.00' },
        { kind: 'labor' as const, words: 'Fitting', quantity: '0.5', unitPrice: '60.00' },
      ],
    };
    const draft = await shop.call('quotes.draft', input);
    expect((await shop.call('quotes.draft', input)).number).toBe(draft.number);
    // 92 + 30 = 122; 7.5 % is 9.15: 131.15, and the smallest coin is 5 cents.
    expect(draft.priced[0]?.customer).toEqual({ total: usd(13115), cash: usd(13115) });
    const issued = await shop.call('quotes.issue', { quoteId, ifVersion: draft.version });
    expect(issued).toMatchObject({ state: 'issued', issues: [{ issue: 1, validUntil: '2026-04-01' }] });
    await expect(shop.call('quotes.draft', { quoteId, ifVersion: draft.version })).rejects.toThrow(
      /changed meanwhile/,
    );
    const again = await shop.call('quotes.draft', {
      quoteId,
      ifVersion: issued.version,
      discountPercent: '10',
    });
    expect(again.priced[0]?.customer.total).toEqual(usd(11804));
    const second = await shop.call('quotes.issue', { quoteId });
    expect(second.issues.map((one) => one.total.amount)).toEqual([13115, 11804]);
    const { text } = await shop.call('quotes.text', { quoteId });
    expect(text).toContain('(version 2)');
    expect(text).toContain('To pay: 118.04 USD');
    expect(text).toContain('In cash: 118.05 USD');
    const pdf = await shop.call('quotes.pdf', { quoteId });
    expect(Buffer.from(pdf.base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('names what is wrong, and keeps nothing', async () => {
    const before = (await shop.call('quotes.list', {})).quotes.length;
    const bad = (line: object) =>
      shop.callRaw('quotes.draft', { lines: [{ kind: 'part', words: 'x', unitPrice: '1', ...line }] });
    await expect(bad({ taxRateId: 'none-such' })).rejects.toThrow(/lines\[0\].taxRateId.*none-such/);
    await expect(bad({ optionId: 'gold' })).rejects.toThrow(/no option “gold”/);
    await expect(bad({ discountPercent: '120' })).rejects.toThrow(/from 0 to 100/);
    await expect(bad({ unitPrice: '1,50' })).rejects.toThrow(/unitPrice/);
    expect((await shop.call('quotes.list', {})).quotes.length).toBe(before);
  });
});

describe('a quote from a job', () => {
  it('writes labor and a fitting part, stops the job above the approval, and turns declined lines into advisories', async () => {
    const draft = await shop.call('quotes.draft', { jobId, causeIds: ['starter-relay-coil-open'] });
    const part = draft.lines.find((line) => line.kind === 'part');
    expect(draft.lines.find((line) => line.kind === 'labor')?.unitPrice).toBe('60.00');
    const { fits } = await shop.call('parts.fit', {
      modelId: 'corvia-heron-150',
      year: 2020,
      kind: 'starter-relay',
    });
    expect(fits.map((fit) => fit.partNumber)).toContain(part?.partNumber);
    const onShelf = fits.filter((fit) => (fit.stock?.free ?? 0) > 0).map((fit) => fit.partNumber);
    if (onShelf.length > 0) expect(onShelf).toContain(part?.partNumber);

    const extra = await shop.call('quotes.draft', {
      quoteId: draft.quoteId,
      ifVersion: draft.version,
      lines: [
        ...draft.lines.map(({ safety, optionId, discountPercent, partNumber, ...line }) => ({
          ...line,
          ...(partNumber ? { partNumber } : {}),
        })),
        { kind: 'part', words: 'Front brake pads', unitPrice: '19.00', safety: true },
      ],
    });
    const issued = await shop.call('quotes.issue', { quoteId: draft.quoteId });
    expect(issued.gate).toMatchObject({ isCovered: false, approved: null });
    expect((await shop.call('jobs.get', { jobId })).status).toBe('awaiting-approval');
    expect(issued.declineWords).toContain('Front brake pads');

    const pads = extra.lines.find((line) => line.words === 'Front brake pads');
    const accepted = await shop.call('quotes.accept', {
      quoteId: draft.quoteId,
      declinedLineIds: [pads?.lineId as string],
      who: 'Petra Invented',
      how: 'phone',
    });
    expect(accepted.state).toBe('accepted');
    expect(accepted.gate?.isCovered).toBe(true);
    const job = await shop.call('jobs.get', { jobId });
    expect(job.status).toBe('in-work');
    expect(job.approvals.at(-1)).toMatchObject({
      who: 'Petra Invented',
      how: 'phone',
      amount: accepted.answer?.total,
    });
    expect(job.advisories).toMatchObject([{ state: 'declined', urgency: 'now', doNotRide: true }]);
    await expect(
      shop.call('quotes.accept', { quoteId: draft.quoteId, who: 'Petra Invented', how: 'phone' }),
    ).rejects.toThrow(/only an issued one/);

    // A second quote on the same job goes beyond what was approved.
    const more = await shop.call('quotes.draft', {
      jobId,
      lines: [{ kind: 'fee', words: 'Seized bolt', unitPrice: '25' }],
    });
    const asks = await shop.call('quotes.issue', { quoteId: more.quoteId });
    expect(asks.gate?.says).toContain('above what the customer approved');
    expect((await shop.call('jobs.get', { jobId })).status).toBe('awaiting-approval');
    await expect(shop.call('jobs.update', { jobId, set: { status: 'in-work' } })).rejects.toThrow(
      /ask again/,
    );
    const approve = (amount: number) =>
      shop.call('jobs.approve', { jobId, who: 'Petra Invented', how: 'in-person', amount: usd(amount) });
    expect((await approve((asks.gate?.asked.amount ?? 0) - 1)).status).toBe('awaiting-approval');
    expect((await approve(asks.gate?.asked.amount ?? 0)).status).toBe('in-work');
  });

  it('holds only until its date', async () => {
    const draft = await shop.call('quotes.draft', { lines: [{ kind: 'fee', words: 'x', unitPrice: '1' }] });
    await shop.call('quotes.issue', { quoteId: draft.quoteId });
    shop.pass(31);
    await expect(
      shop.call('quotes.accept', { quoteId: draft.quoteId, who: 'A', how: 'phone' }),
    ).rejects.toThrow(/held until/);
  });

  it('without a proven cause asks for one', async () => {
    await expect(shop.call('quotes.draft', { jobId, fromJob: true })).rejects.toThrow(/name causeIds/);
  });
});

describe('options', () => {
  it('are priced side by side, and one is chosen', async () => {
    const draft = await shop.call('quotes.draft', {
      options: [
        { optionId: 'good', title: 'Good' },
        { optionId: 'better', title: 'Better' },
      ],
      lines: [
        { kind: 'labor', words: 'Fitting', quantity: '1', unitPrice: '60', taxRateId: null },
        { kind: 'part', words: 'Pattern belt', unitPrice: '20', optionId: 'good', taxRateId: null },
        { kind: 'part', words: 'Belt', unitPrice: '35', optionId: 'better', taxRateId: null },
      ],
    });
    expect(draft.priced.map((option) => option.customer.total.amount)).toEqual([8000, 9500]);
    await shop.call('quotes.issue', { quoteId: draft.quoteId });
    await expect(
      shop.call('quotes.accept', { quoteId: draft.quoteId, who: 'A', how: 'phone' }),
    ).rejects.toThrow(/choose one of good, better/);
    const taken = await shop.call('quotes.accept', {
      quoteId: draft.quoteId,
      optionId: 'good',
      who: 'A',
      how: 'phone',
    });
    expect(taken.answer?.total).toEqual(usd(8000));
  });
});
