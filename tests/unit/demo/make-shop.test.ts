import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeShop } from '../../../src/demo/index.ts';
import { buildBook, readHandbook } from '../../../src/handbook/index.ts';

const root = join(import.meta.dirname, '../../../seed/handbook');
const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => ({ path: name.replaceAll('\\', '/'), text: readFileSync(join(root, name), 'utf8') }));
const { book } = buildBook(readHandbook(files).entries, 'test');
const untilMs = Date.parse('2026-03-02T12:00:00Z');
const order = { book, jobs: 3600, seed: 7, untilMs };
const shop = makeShop(order);
const closed = shop.jobs.filter((job) => job.closedMs !== null);
const year = 365 * 86_400_000;

describe('the invented shop', () => {
  it('is the same for the same seed and another for another', () => {
    expect(makeShop(order)).toEqual(shop);
    expect(makeShop({ ...order, seed: 8 }).jobs[10]).not.toEqual(shop.jobs[10]);
  });

  it('has at least 3,000 closed jobs over three years, each with what a ledger needs', () => {
    expect(closed.length).toBeGreaterThanOrEqual(3000);
    expect(Math.min(...closed.map((job) => job.openedMs))).toBeGreaterThan(untilMs - 3.1 * year);
    expect(Math.min(...closed.map((job) => job.openedMs))).toBeLessThan(untilMs - 2.9 * year);
    expect(shop.jobs.every((job) => job.openedMs <= untilMs)).toBe(true);
    for (const job of closed) {
      expect(job.technician).not.toBe('');
      expect(job.mileage_km).toBeGreaterThan(0);
      expect(job.minutes).toBeGreaterThan(0);
      expect(job.words).not.toBe('');
      if (job.outcome === 'proven') expect(job.causes.length).toBeGreaterThan(0);
      for (const part of job.parts) expect(part.supplier).not.toBe('');
    }
    expect(closed.some((job) => job.plannedMinutes !== null && job.plannedMinutes !== job.minutes)).toBe(
      true,
    );
  });

  it('differs by model: the same symptom has another usual cause here and there', () => {
    const usual = new Map<string, string>();
    for (const { id } of book.models.values()) {
      const counts = new Map<string, number>();
      for (const job of closed) {
        if (shop.vehicles[job.vehicle]?.modelId !== id || job.symptomId !== 'battery-overnight') continue;
        const cause = job.causes[0]?.causeId;
        if (cause) counts.set(cause, (counts.get(cause) ?? 0) + 1);
      }
      const top = [...counts].sort((a, b) => b[1] - a[1])[0];
      if (top) usual.set(id, top[0]);
    }
    expect(new Set(usual.values()).size).toBeGreaterThan(1);
  });

  it('has seasons: batteries go flat in the cold', () => {
    const flat = closed.filter((job) => job.symptomId === 'battery-overnight');
    const months = (list: readonly number[]): number =>
      flat.filter((job) => list.includes(new Date(job.openedMs).getUTCMonth())).length;
    expect(months([11, 0, 1])).toBeGreaterThan(months([5, 6, 7]));
  });

  it('hides two stories: a batch of relays on one model in one season, and belts of one supplier that come back', () => {
    const { relay, belt } = shop.stories;
    expect(relay).not.toBeNull();
    expect(belt).not.toBeNull();
    const isBad = (job: (typeof closed)[number]): boolean => job.causes[0]?.causeId === relay?.cause.id;
    const ofModel = closed.filter((job) => shop.vehicles[job.vehicle]?.modelId === relay?.modelId);
    const inSeason = ofModel.filter(
      (job) => job.openedMs >= (relay?.fromMs ?? 0) && job.openedMs < (relay?.untilMs ?? 0),
    );
    const before = ofModel.filter((job) => job.openedMs < (relay?.fromMs ?? 0));
    const rate = (jobs: typeof closed): number => jobs.filter(isBad).length / jobs.length;
    expect(rate(inSeason)).toBeGreaterThan(4 * rate(before));

    const fitted = closed.filter((job) => job.parts.some((part) => part.kind === belt?.kind));
    const returned = new Set(closed.map((job) => job.comebackOf));
    const comesBack = (supplier: boolean): number => {
      const jobs = fitted.filter((job) =>
        job.parts.some((part) => part.kind === belt?.kind && (part.supplier === belt?.supplier) === supplier),
      );
      return jobs.filter((job) => returned.has(shop.jobs.indexOf(job))).length / jobs.length;
    };
    expect(comesBack(true)).toBeGreaterThan(3 * comesBack(false));
  });
});
