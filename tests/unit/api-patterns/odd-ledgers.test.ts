import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type InputOf, type OutputOf, type ProcedureName, recurringBy } from '../../../src/api/contract.ts';
import { type Handler, openHandler } from '../../../src/api/index.ts';
import { seedFolder } from '../api/open-shop.ts';
import { badNumbers } from './bad-numbers.ts';

/** A ledger as life writes it: clocks that jump, vehicles a hundred years old, models that left the book. */
const folder = mkdtempSync(join(tmpdir(), 'bench-tally-odd-'));
let at = { ms: Date.parse('2026-03-28T09:00:00Z'), offset: 60 };
let handler: Handler;
const call = <N extends ProcedureName>(name: N, input: InputOf<N>): Promise<OutputOf<N>> =>
  handler.call(name, input) as Promise<OutputOf<N>>;

beforeAll(async () => {
  handler = await openHandler({
    dataFolder: folder,
    door: 'call',
    seedFolder,
    programVersion: 'test',
    clock: () => {
      at = { ...at, ms: at.ms + 10 };
      return at;
    },
    newId: uuidv7,
  });
});
afterAll(async () => {
  await handler.close();
  rmSync(folder, { recursive: true, force: true });
});

const clock = (iso: string, offset: number): void => {
  at = { ms: Date.parse(iso), offset };
};

let plates = 0;
async function repair(
  vehicle: InputOf<'jobs.open'>['vehicle'],
  closedAt: [iso: string, offset: number] | null,
  mileage_km?: number,
) {
  plates += 1;
  const job = await call('jobs.open', {
    vehicle: { plate: `ODD ${plates}`, ...vehicle },
    ...(mileage_km === undefined ? {} : { mileage_km }),
    concerns: [{ words: 'one click and nothing', symptomId: 'start-click' }],
  });
  if (closedAt) clock(...closedAt);
  await call('jobs.close', {
    jobId: job.jobId,
    closing: {
      kind: 'proven',
      causes: [{ causeId: 'starter-relay-contact-open' }],
      proof: 'measured',
      minutes: 0,
      parts: [{ description: 'Starter relay', kind: 'starter-relay', quantity: 1 }],
    },
  });
  return job;
}

const periods = [
  {},
  { days: 1 },
  { days: 36_600 },
  { from: '1926-01-01T00:00:00Z', until: '1926-02-01T00:00:00Z' },
  { from: '2100-01-01T00:00:00Z' },
  { from: '2100-01-01T00:00:00Z', until: '2100-01-01T00:00:01Z' },
] as const;

async function everyReport(): Promise<[name: string, answer: unknown][]> {
  const all: [string, unknown][] = [];
  for (const period of periods) {
    for (const by of recurringBy)
      for (const against of ['before', 'year-before', 'everything-before', 'none'] as const)
        all.push([`recurring by ${by}`, await call('patterns.recurring', { by, against, ...period })]);
    for (const by of ['cause', 'part-kind', 'supplier', 'part-kind-and-supplier'] as const)
      all.push([`comebacks by ${by}`, await call('patterns.comebacks', { by, ...period })]);
    all.push(['accuracy', await call('patterns.accuracy', period)]);
  }
  for (const days of [7, 90, 3660]) all.push(['overview', await call('patterns.overview', { days })]);
  for (const months of [2, 36, 240]) all.push(['trend', await call('patterns.trend', { months })]);
  all.push(['trend', await call('patterns.trend', { componentId: 'starter-relay', modelId: 'gone-125' })]);
  all.push(['stock', await call('patterns.stock', { service: 0.999, leadDays: 365, coverDays: 365 })]);
  return all;
}

describe('reports of an odd ledger', () => {
  it('without any job have numbers and words only', async () => {
    for (const [name, answer] of await everyReport()) expect([name, badNumbers(answer)]).toEqual([name, []]);
  });

  it('with one job have numbers and words only', async () => {
    await repair({ year: 1926 }, null);
    for (const [name, answer] of await everyReport()) expect([name, badNumbers(answer)]).toEqual([name, []]);
  });

  it('count a closing in the month that the clock of the shop showed, over the change to summer time', async () => {
    // 23:30 UTC is half past one on the next day, and in the next month, once the clock is two hours ahead.
    clock('2026-03-29T00:30:00Z', 60);
    await repair({}, ['2026-03-29T01:30:00Z', 120]);
    await repair({}, ['2026-03-31T22:30:00Z', 120]);
    clock('2026-04-02T09:00:00Z', 120);
    const { months } = await call('patterns.trend', {});
    expect(months.map((month) => [month.month, month.concerns, month.visits])).toEqual([
      ['2026-03', 2, 2],
      ['2026-04', 1, 1],
    ]);
    // By the second, not by the month: the closing at 22:30 UTC lies before midnight UTC.
    const march = await call('patterns.recurring', {
      by: 'cause',
      from: '2026-03-01T00:00:00Z',
      until: '2026-04-01T00:00:00Z',
    });
    expect(march.period.visits).toBe(3);
    expect(march.groups[0]?.concerns).toBe(3);
  });

  it('take a job that closed before it was opened, and one that closed in what is now the future', async () => {
    clock('2026-04-03T12:00:00Z', 120);
    await repair({ year: 2027 }, ['2026-04-03T11:00:00Z', 120], 12_000);
    clock('2026-06-01T12:00:00Z', 120);
    const back = await repair({}, null);
    clock('2026-04-04T12:00:00Z', 120);
    const { period } = await call('patterns.recurring', { by: 'cause', days: 36_600 });
    // The one of June is not over yet.
    expect(period.visits).toBe(4);
    expect(back.number).toBeGreaterThan(0);
    for (const [name, answer] of await everyReport()) expect([name, badNumbers(answer)]).toEqual([name, []]);
    clock('2026-06-02T12:00:00Z', 120);
    expect((await call('patterns.recurring', { by: 'cause', days: 36_600 })).period.visits).toBe(5);
  });

  it('take a return whose clock ran backwards', async () => {
    const job = await repair({ plate: 'BACK 1' }, null, 30_000);
    const { vehicle } = await call('jobs.get', { jobId: job.jobId });
    const vehicleId = vehicle?.vehicleId;
    expect(vehicleId).toBeTruthy();
    clock('2026-06-03T12:00:00Z', 120);
    const again = await call('jobs.open', {
      vehicleId: vehicleId as string,
      concerns: [{ words: 'again', symptomId: 'start-click' }],
    });
    // The first closing is corrected by hand to lie after the return, as when two clocks disagree.
    const raw = new Database(join(folder, 'shop.db'));
    raw.exec(`update concerns set closed_ms = closed_ms + 86400000 * 5 where job_id = '${job.jobId}'`);
    raw.exec('update concerns set comeback_days = -5 where comeback_of is not null');
    raw.close();
    await call('jobs.close', {
      jobId: again.jobId,
      closing: {
        kind: 'proven',
        causes: [{ causeId: 'starter-relay-contact-open' }],
        proof: 'measured',
      },
    });
    await call('shop.rebuildTally', {});
    clock('2026-06-20T12:00:00Z', 120);
    const { curves, didNotHold } = await call('patterns.comebacks', { by: 'cause' });
    expect(didNotHold).toBe(1);
    expect(curves.chosen).toEqual([expect.objectContaining({ days: 0, events: 1 })]);
    for (const [name, answer] of await everyReport()) expect([name, badNumbers(answer)]).toEqual([name, []]);
  });

  it('name models, causes and kinds of parts that left the book', async () => {
    const raw = new Database(join(folder, 'shop.db'));
    raw.exec(`update concerns set model_id = 'gone-125', family_id = 'gone-engine' where model_id is null;
      update concern_causes set cause_id = 'gone-cause' where concern_id = (select min(concern_id) from concern_causes);
      update concern_parts set kind = 'gone-kind' where concern_id = (select min(concern_id) from concern_parts)`);
    raw.close();
    await call('shop.rebuildTally', {});
    const titles = async (by: (typeof recurringBy)[number]) =>
      (await call('patterns.recurring', { by, days: 3660 })).groups.map((group) => group.title);
    expect(await titles('model')).toContain('gone-125 (model no longer in the book)');
    expect(await titles('family')).toContain('gone-engine (engine no longer in the book)');
    expect(await titles('cause')).toContain('gone-cause (cause no longer in the book)');
    expect(await titles('part-kind')).toContain('gone-kind');
    for (const [name, answer] of await everyReport()) expect([name, badNumbers(answer)]).toEqual([name, []]);
  });

  it('refuse a period that ends before it begins, and what no calendar knows, naming the field', async () => {
    const backwards = { from: '2026-02-01T00:00:00Z', until: '2026-01-01T00:00:00Z' };
    for (const name of ['patterns.recurring', 'patterns.comebacks', 'patterns.accuracy'] as const)
      await expect(
        handler.call(name, { ...backwards, ...(name === 'patterns.recurring' ? { by: 'cause' } : {}) }),
      ).rejects.toMatchObject({ code: 'bad-input', where: { field: 'from' } });
    for (const [field, value] of [
      ['from', '2026-02-30T00:00:00Z'],
      ['from', 'yesterday'],
      ['days', 0],
      ['days', 1e9],
      ['days', 1.5],
    ] as const)
      await expect(handler.call('patterns.accuracy', { [field]: value })).rejects.toMatchObject({
        code: 'bad-input',
        where: { field },
      });
  });
});
