import { deflateSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TestShop } from '../api/open-shop.ts';
import { openDemoShop } from '../parts/demo-shop-parts.ts';

// The rules checked here (what stands while a quote is changed, what an approval covers, when a return is no comeback) are
// the program's own; there is no outside source for them. Amounts are worked out by hand beside each check.

let shop: TestShop;
beforeAll(async () => {
  shop = await openDemoShop();
});
afterAll(() => shop.close());

const usd = (amount: number) => ({ amount, currency: 'USD' });
let plates = 0;
async function newJob(symptomId = 'start-click') {
  plates += 1;
  return shop.call('jobs.open', {
    vehicle: { plate: `LIFE ${plates}`, modelId: 'corvia-heron-150', year: 2020 },
    customer: { name: 'Petra Invented' },
    concerns: [{ words: 'one click when I press start', symptomId }],
  });
}
const fee = (unitPrice: string) => ({ kind: 'fee' as const, words: 'Seized bolt', unitPrice });

describe('minutes of labor', () => {
  it('are charged exactly: 25 minutes at 59.99 an hour are 25.00 (24.9958), not 0.42 h or 25.20', async () => {
    const quote = await shop.call('quotes.draft', {
      lines: [{ kind: 'labor', words: 'Work', minutes: 25, unitPrice: '59.99' }],
    });
    expect(quote.priced[0]?.net).toEqual(usd(2500));
    expect(quote.lines[0]).toMatchObject({ minutes: 25, quantity: '0.42' });
  });
});

describe('a part added with one call', () => {
  it('comes with its price, counts up when added again, and is added once when sent twice', async () => {
    const { fits } = await shop.call('parts.fit', {
      modelId: 'corvia-heron-150',
      year: 2020,
      kind: 'starter-relay',
    });
    const part = fits.find((fit) => fit.price !== null);
    if (!part?.price) throw new Error('the invented catalog has no priced starter relay');
    const job = await newJob();
    const addId = '01960000-0000-7000-8000-0000000000a1';
    const input = { addId, jobId: job.jobId, partNumber: part.partNumber };
    const first = await shop.call('quotes.add', input);
    expect(first.isNew).toBe(true);
    expect(first.quote.jobId).toBe(job.jobId);
    const again = await shop.call('quotes.add', input);
    expect(again.quote.lines).toEqual(first.quote.lines);
    const more = await shop.call('quotes.add', {
      jobId: job.jobId,
      partNumber: part.partNumber.toLowerCase().replaceAll('-', ' '),
    });
    expect(more.quote.quoteId).toBe(first.quote.quoteId);
    const line = more.quote.lines.find((one) => one.lineId === more.lineId);
    expect(line).toMatchObject({ kind: 'part', quantity: '2', partNumber: part.partNumber });
    const net = more.quote.priced[0]?.lines.find((one) => one.lineId === more.lineId)?.net.amount;
    expect(net).toBe(2 * part.price.price.amount);
    await shop.call('quotes.issue', { quoteId: first.quote.quoteId });
    await expect(
      shop.call('quotes.add', { quoteId: first.quote.quoteId, partNumber: part.partNumber }),
    ).rejects.toThrow(/issued already/);
    await expect(shop.call('quotes.add', { partNumber: 'NO SUCH 1' })).rejects.toThrow(/no part “NO SUCH 1”/);
  });
});

describe('versions', () => {
  it('stay as they were handed out, each with its answer, and can be printed again', async () => {
    const job = await newJob();
    const one = await shop.call('quotes.draft', { jobId: job.jobId, lines: [fee('100')] });
    await shop.call('quotes.issue', { quoteId: one.quoteId });
    const yes = await shop.call('quotes.accept', { quoteId: one.quoteId, who: 'Petra', how: 'phone' });
    const draft = await shop.call('quotes.draft', {
      quoteId: one.quoteId,
      ifVersion: yes.version,
      lines: [fee('150')],
    });
    // While it is changed, what was accepted still stands: the job is neither stopped nor freed of its limit.
    expect(draft.gate).toMatchObject({
      approved: usd(10_000),
      asked: usd(10_000),
      isCovered: true,
      ifIssued: usd(15_000),
    });
    expect(draft.gate?.says).toContain('above the 100.00 USD the customer approved');
    const two = await shop.call('quotes.issue', { quoteId: one.quoteId });
    expect(two.gate).toMatchObject({ isCovered: false, asked: usd(15_000) });
    expect(two.gate?.says).toContain('above what the customer approved, 100.00 USD: ask again');
    expect((await shop.call('jobs.get', { jobId: job.jobId })).status).toBe('awaiting-approval');
    expect(two.issues).toMatchObject([
      { issue: 1, total: usd(10_000), answer: { who: 'Petra', total: usd(10_000) } },
      { issue: 2, total: usd(15_000), answer: null },
    ]);
    expect((await shop.call('quotes.text', { quoteId: one.quoteId, issue: 1 })).text).toContain('100.00 USD');
    expect((await shop.call('quotes.text', { quoteId: one.quoteId })).text).toContain('150.00 USD');
    await expect(shop.call('quotes.pdf', { quoteId: one.quoteId, issue: 3 })).rejects.toThrow(/no issue 3/);
  });

  it('a draft that was never handed out asks nothing', async () => {
    const job = await newJob();
    const draft = await shop.call('quotes.draft', { jobId: job.jobId, lines: [fee('10')] });
    expect(draft.gate).toMatchObject({ isCovered: true, asked: usd(0), ifIssued: usd(1000) });
    expect((await shop.call('jobs.update', { jobId: job.jobId, set: { status: 'in-work' } })).status).toBe(
      'in-work',
    );
  });
});

describe('an approval', () => {
  it('covers what was accepted and not what still waits for an answer', async () => {
    const job = await newJob();
    const one = await shop.call('quotes.draft', { jobId: job.jobId, lines: [fee('100')] });
    const two = await shop.call('quotes.draft', { jobId: job.jobId, lines: [fee('40')] });
    await shop.call('quotes.issue', { quoteId: one.quoteId });
    await shop.call('quotes.issue', { quoteId: two.quoteId });
    await shop.call('quotes.accept', { quoteId: one.quoteId, who: 'Petra', how: 'phone' });
    const card = await shop.call('jobs.get', { jobId: job.jobId });
    expect(card.approvals.at(-1)?.amount).toEqual(usd(10_000));
    expect(card.status).toBe('awaiting-approval');
    for (const status of ['in-work', 'final-check'] as const)
      await expect(shop.call('jobs.update', { jobId: job.jobId, set: { status } })).rejects.toThrow(
        /ask again/,
      );
    const no = two.lines.map((line) => line.lineId);
    await shop.call('quotes.accept', {
      quoteId: two.quoteId,
      declinedLineIds: no,
      who: 'Petra',
      how: 'phone',
    });
    expect((await shop.call('jobs.get', { jobId: job.jobId })).status).toBe('in-work');
  });
});

describe('work that was declined', () => {
  const cause = 'starter-relay-coil-open';
  async function found(proof: 'measured' | 'replaced', declines: boolean) {
    const job = await newJob();
    const quote = await shop.call('quotes.draft', { jobId: job.jobId, causeIds: [cause] });
    await shop.call('quotes.issue', { quoteId: quote.quoteId });
    const lines = quote.lines.map((line) => line.lineId);
    await shop.call('quotes.accept', {
      quoteId: quote.quoteId,
      declinedLineIds: declines ? lines : [],
      who: 'Petra',
      how: 'phone',
    });
    const closed = await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: { kind: 'proven', causes: [{ causeId: cause }], proof, minutes: 30 },
    });
    shop.pass(5);
    const back = await shop.call('jobs.open', {
      vehicleId: job.vehicle?.vehicleId as string,
      concerns: [{ words: 'clicks again', symptomId: 'start-click' }],
    });
    return { closed, back };
  }

  it('is one advisory for the whole repair, and its return is no comeback', async () => {
    const { closed, back } = await found('measured', true);
    expect(closed.advisories.filter((one) => one.state === 'declined')).toHaveLength(1);
    expect(back.concerns[0]?.comeback).toBeNull();
    expect(back.earlierAdvisories[0]?.words).toMatch(/^Declined on quote \d+: /);
  });

  it('but a repair that was done and comes back is one', async () => {
    const { back } = await found('replaced', false);
    expect(back.concerns[0]?.comeback).toMatchObject({ state: 'in-doubt', daysBetween: 5 });
  });

  it('and so is one that was declined and done all the same', async () => {
    const { back } = await found('replaced', true);
    expect(back.concerns[0]?.comeback).not.toBeNull();
  });
});

describe('actual against quoted', () => {
  it('counts minutes at the quoted rate and parts at the quoted price; what was not quoted at its present price', async () => {
    const job = await newJob();
    const quote = await shop.call('quotes.draft', {
      jobId: job.jobId,
      lines: [
        { kind: 'labor', words: 'Work', minutes: 30, unitPrice: '60' },
        { kind: 'part', words: 'Relay', partNumber: 'XX-1', unitPrice: '20' },
        fee('5'),
      ],
    });
    expect(quote.against).toBeNull();
    await shop.call('quotes.issue', { quoteId: quote.quoteId });
    await shop.call('quotes.accept', { quoteId: quote.quoteId, who: 'Petra', how: 'phone' });
    await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: {
        kind: 'proven',
        causes: [{ causeId: 'starter-relay-coil-open' }],
        proof: 'replaced',
        minutes: 45,
        parts: [
          { description: 'Relay', partNumber: 'xx 1', quantity: 2 },
          { description: 'Cable tie', quantity: 3 },
        ],
      },
    });
    const after = await shop.call('quotes.get', { quoteId: quote.quoteId });
    // Quoted 30 + 20; booked 45 min are 45, two relays 40.
    expect(after.against).toEqual({
      numbers: [quote.number],
      quotedMinutes: 30,
      actualMinutes: 45,
      quoted: usd(5000),
      actual: usd(8500),
      parts: [
        { words: 'Relay', partNumber: 'XX-1', quoted: '1', used: 2 },
        { words: 'Cable tie', partNumber: null, quoted: '0', used: 3 },
      ],
      unpriced: ['Cable tie'],
    });
  });

  it('takes all quotes that were accepted on a job together, since work is booked on the job', async () => {
    const job = await newJob();
    const quoteOf = async (minutes: number, price: string) => {
      const quote = await shop.call('quotes.draft', {
        jobId: job.jobId,
        lines: [
          { kind: 'labor', words: 'Work', minutes, unitPrice: '60' },
          { kind: 'part', words: 'Belt', partNumber: 'B-7', unitPrice: price },
        ],
      });
      await shop.call('quotes.issue', { quoteId: quote.quoteId });
      return shop.call('quotes.accept', { quoteId: quote.quoteId, who: 'Petra', how: 'phone' });
    };
    const first = await quoteOf(30, '20');
    const second = await quoteOf(15, '20');
    await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: {
        kind: 'proven',
        causes: [{ causeId: 'starter-relay-coil-open' }],
        proof: 'replaced',
        minutes: 50,
        parts: [{ description: 'Belt', partNumber: 'B 7', quantity: 2 }],
      },
    });
    const { against } = await shop.call('quotes.get', { quoteId: first.quoteId });
    expect(against).toEqual({
      numbers: [first.number, second.number],
      quotedMinutes: 45,
      actualMinutes: 50,
      quoted: usd(8500),
      actual: usd(9000),
      parts: [{ words: 'Belt', partNumber: 'B-7', quoted: '2', used: 2 }],
      unpriced: [],
    });
    expect((await shop.call('quotes.get', { quoteId: second.quoteId })).against).toEqual(against);
  });
});

describe('a quote without a job', () => {
  it('says for whom, until when, and what is paid ahead; a past date is refused', async () => {
    const quote = await shop.call('quotes.draft', {
      forWhom: 'Mr. Invented, blue scooter',
      validUntil: '2026-12-24',
      prepay: '50',
      lines: [fee('80')],
    });
    expect(quote.priced[0]?.prepaid).toEqual({ ahead: usd(5000), rest: usd(3000) });
    const issued = await shop.call('quotes.issue', { quoteId: quote.quoteId });
    expect(issued.issues[0]?.validUntil).toBe('2026-12-24');
    const { text } = await shop.call('quotes.text', { quoteId: quote.quoteId });
    expect(text).toContain('For Mr. Invented, blue scooter');
    expect(text).toContain('To pay before we start: 50.00 USD, then 30.00 USD');
    await expect(shop.call('quotes.draft', { validUntil: '2020-01-01' })).rejects.toThrow(/is past/);
  });

  it('keeps its currency and a tax rate that the shop gave up', async () => {
    const rate = { id: 'old', title: 'Old tax', percent: '5' };
    await shop.call('quotes.terms', { set: { taxRates: [rate], usualTaxRateId: 'old' } });
    const quote = await shop.call('quotes.draft', { lines: [fee('100')] });
    await shop.call('quotes.terms', { set: { taxRates: [], usualTaxRateId: null } });
    await shop.call('shop.settings', { set: { currency: 'JPY' } });
    const changed = await shop.call('quotes.draft', {
      quoteId: quote.quoteId,
      ifVersion: quote.version,
      note: 'changed',
    });
    await shop.call('shop.settings', { set: { currency: 'USD' } });
    expect(changed.currency).toBe('USD');
    expect(changed.priced[0]?.customer.total).toEqual(usd(10_500));
  });
});

/** A PNG file of one gray pixel (ISO/IEC 15948): signature, IHDR, IDAT, IEND with their check sums. */
function onePixel(): Buffer {
  const crcOf = (bytes: Buffer): number => {
    let crc = 0xffffffff;
    for (const byte of bytes) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
    }
    return (crc ^ 0xffffffff) >>> 0;
  };
  const chunk = (name: string, data: Buffer): Buffer => {
    const length = Buffer.alloc(4);
    length.writeUInt32BE(data.length);
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    const crc = Buffer.alloc(4);
    crc.writeUInt32BE(crcOf(body));
    return Buffer.concat([length, body, crc]);
  };
  const head = Buffer.from([0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0]);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.from([0, 128]))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

describe("the shop's picture", () => {
  it('is known by its bytes, printed, and taken away again', async () => {
    const base64 = onePixel().toString('base64');
    const { logo } = await shop.call('quotes.logo', { base64 });
    expect(logo).toMatchObject({ kind: 'png', width: 1, height: 1, base64 });
    const quote = await shop.call('quotes.draft', { lines: [fee('1')] });
    const pdf = await shop.call('quotes.pdf', { quoteId: quote.quoteId });
    expect(Buffer.from(pdf.base64, 'base64').toString('latin1')).toContain('/Subtype /Image');
    expect((await shop.call('quotes.logo', { base64: null })).logo).toBeNull();
    const without = await shop.call('quotes.pdf', { quoteId: quote.quoteId });
    expect(Buffer.from(without.base64, 'base64').toString('latin1')).not.toContain('/Subtype /Image');
  });

  it.each([
    ['a text', Buffer.from('not a picture'), /neither a PNG nor a JPEG/],
    ['a PNG cut off', onePixel().subarray(0, 20), /cut off/],
    ['a PNG with damaged data', Buffer.concat([onePixel().subarray(0, 41), Buffer.alloc(40, 7)]), /damaged/],
    ['too large', Buffer.concat([onePixel(), Buffer.alloc(300_001)]), /kB/],
  ])('%s is refused and changes nothing', async (_, bytes, why) => {
    await expect(shop.call('quotes.logo', { base64: bytes.toString('base64') })).rejects.toThrow(why);
    expect((await shop.call('quotes.logo', {})).logo).toBeNull();
  });
});

describe('the one field', () => {
  it('answers a part by its number in any form, by a scanned barcode, and by words', async () => {
    const { parts } = await shop.call('parts.find', { text: 'brake pad', limit: 50 });
    const part = parts.find((one) => one.gtin !== null) ?? parts[0];
    if (!part) throw new Error('the invented catalog has no brake pads');
    const typed = part.partNumber.toLowerCase().replaceAll(/[\s-]/g, '');
    expect(await shop.call('counter.find', { text: typed })).toMatchObject({
      isPartNumber: true,
      parts: [{ partNumber: part.partNumber }],
    });
    if (part.gtin) {
      const scanned = await shop.call('counter.find', { text: part.gtin.replace(/^0+/, '') });
      expect(scanned).toMatchObject({ isPartNumber: true, parts: [{ partNumber: part.partNumber }] });
    }
    const words = await shop.call('counter.find', { text: 'brake pad' });
    expect(words.isPartNumber).toBe(false);
    expect(words.parts.length).toBeGreaterThan(0);
    const complaint = await shop.call('counter.find', {
      text: 'when I press start I hear only one click and then nothing else happens at all',
    });
    expect(complaint.parts).toEqual([]);
  });
});
