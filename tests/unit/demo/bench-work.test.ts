import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawBenchWork, makeCatalog, makeShop } from '../../../src/demo/index.ts';
import { buildBook, readHandbook } from '../../../src/handbook/index.ts';
import { priceQuote } from '../../../src/quote/index.ts';

const root = join(import.meta.dirname, '../../../seed/handbook');
const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => ({ path: name.replaceAll('\\', '/'), text: readFileSync(join(root, name), 'utf8') }));
const { book } = buildBook(readHandbook(files).entries, 'test');
const untilMs = Date.parse('2026-03-02T12:00:00Z');
const seed = 7;
const shop = makeShop({ book, jobs: 3600, seed, untilMs });
const catalog = makeCatalog(book, seed);
const order = { book, seed, untilMs, laborRate: '60.00', currency: 'USD' };
const work = drawBenchWork(shop, catalog, order);
const day = 86_400_000;

describe('what the invented shop wrote down beside its jobs', () => {
  it('is the same for the same seed and another for another', () => {
    const { readings, quotes, orders } = drawBenchWork(shop, catalog, order);
    expect({ readings, quotes, orders }).toEqual({
      readings: work.readings,
      quotes: work.quotes,
      orders: work.orders,
    });
    expect(drawBenchWork(shop, catalog, { ...order, seed: 8 }).readings).not.toEqual(work.readings);
  });

  it('records checks of the book, with outcomes that they have, between opening and closing', () => {
    const jobs = new Set(work.readings.map((reading) => reading.job));
    expect(jobs.size).toBeGreaterThan(shop.jobs.length * 0.3);
    expect(jobs.size).toBeLessThan(shop.jobs.length * 0.5);
    for (const { job, atMs, check, outcomeId } of work.readings) {
      const card = shop.jobs[job];
      expect(check.outcomes.map((one) => one.id)).toContain(outcomeId);
      expect(atMs).toBeGreaterThanOrEqual(card?.openedMs ?? Number.NaN);
      if (card?.closedMs) expect(atMs).toBeLessThanOrEqual(card.closedMs);
    }
  });

  it('shows the proven cause in the checks as often as the book says', () => {
    let seen = 0;
    let expected = 0;
    let variance = 0;
    for (const { job, check, outcomeId } of work.readings) {
      const causeId = shop.jobs[job]?.causes[0]?.causeId;
      const cause = causeId ? book.causes.get(causeId) : undefined;
      const said = cause && check.when[cause.id];
      if (!cause || !said) continue;
      for (const outcome of check.outcomes) {
        const chance = said[outcome.id];
        if (chance === undefined || cause.showsWith !== 1) continue;
        expected += chance;
        variance += chance * (1 - chance);
        seen += Number(outcomeId === outcome.id);
      }
    }
    expect(expected).toBeGreaterThan(200);
    // Five standard deviations: a right drawing misses this once in more than a million seeds.
    expect(Math.abs(seen - expected)).toBeLessThan(5 * Math.sqrt(variance));
  });

  it('quotes repairs in money that can be priced; one open card waits for its answer', () => {
    for (const { job, body, madeMs, answer } of work.quotes) {
      expect(priceQuote(body, null).customer.total).toBeGreaterThan(0);
      expect(madeMs).toBeGreaterThanOrEqual(shop.jobs[job]?.openedMs ?? Number.NaN);
      if (answer) expect(answer.atMs).toBeGreaterThan(madeMs);
    }
    const waiting = work.quotes.filter((quote) => quote.answer === null);
    expect(waiting.map((quote) => shop.jobs[quote.job]?.status)).toEqual(['awaiting-approval']);
    const closed = work.quotes.filter((quote) => shop.jobs[quote.job]?.closedMs !== null);
    expect(closed.length).toBeGreaterThan(200);
    const lines = closed.filter(
      ({ job, body }) => body.lines.length - 1 !== (shop.jobs[job]?.parts.length ?? 0),
    );
    expect(lines.length).toBeLessThan(closed.length / 5);
  });

  it('orders parts that fit, which arrive after days; the open cards show one late and one awaited', () => {
    const parts = new Set(catalog.parts.map((part) => part.id));
    const suppliers = new Set(catalog.suppliers.map((one) => one.id));
    for (const one of work.orders) {
      expect(parts.has(one.partId)).toBe(true);
      expect(suppliers.has(one.supplierId)).toBe(true);
      expect(one.quantity).toBeGreaterThan(0);
      if (one.job === null && one.arrivedMs !== null)
        expect(one.arrivedMs - one.madeMs).toBeGreaterThanOrEqual(day);
    }
    const open = work.orders.filter((one) => one.job !== null);
    const waiting = open.filter((one) => shop.jobs[one.job ?? -1]?.status === 'waiting-for-parts');
    expect(waiting.every((one) => one.arrivedMs === null)).toBe(true);
    expect(waiting.map((one) => one.expectedMs < untilMs)).toEqual([true, false]);
    expect(open.filter((one) => shop.jobs[one.job ?? -1]?.status === 'in-work')).toHaveLength(2);
  });

  it('names the fitted parts by number, as far as the catalog has them', () => {
    const fitted = shop.jobs.flatMap((job) =>
      job.parts.map((part) => work.partNumber(job.vehicle, part.kind, part.supplier)),
    );
    expect(fitted.filter((number) => number !== null).length).toBeGreaterThan(fitted.length * 0.9);
  });
});
