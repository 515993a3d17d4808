import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { WorkState } from '../../../src/api/contract.ts';
import { type Handler, openHandler } from '../../../src/api/index.ts';
import { openShop, seedFolder, type TestShop } from '../api/open-shop.ts';
import { loadDemo } from './load-demo.ts';

/** The writing handler and the reading one of the second worker, side by side on one file. */
let shop: TestShop;
let reader: Handler;
beforeAll(async () => {
  shop = await openShop();
  await loadDemo(shop, 400, 11);
  reader = await openHandler(
    {
      dataFolder: shop.folder,
      door: 'call',
      seedFolder,
      programVersion: 'test',
      clock: () => ({ ms: Date.parse('2026-03-09T10:00:00Z'), offset: 60 }),
      newId: uuidv7,
    },
    'report',
  );
  // Loads the book, which yields too.
  await reader.call('patterns.stock', {});
});
afterAll(async () => {
  await reader.close();
  await shop.close();
});

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const progressOf = (workId: string) => reader.call('report.progress', { workId }) as Promise<WorkState>;

async function closeOne(): Promise<void> {
  const job = await shop.call('jobs.open', {
    vehicle: { plate: `SNAP ${uuidv7().slice(-8)}` },
    concerns: [{ words: 'click', symptomId: 'start-click' }],
  });
  await shop.call('jobs.close', {
    jobId: job.jobId,
    closing: {
      kind: 'proven',
      causes: [{ causeId: 'starter-relay-contact-open' }],
      proof: 'measured',
      parts: [{ description: 'Starter relay', kind: 'starter-relay', quantity: 1 }],
    },
  });
}

/** Writes as long as something runs. @returns how often it wrote meanwhile */
async function writeBeside(running: Promise<unknown>): Promise<number> {
  let isOver = false;
  const over = (): void => {
    isOver = true;
  };
  running.then(over, over);
  let written = 0;
  while (!isOver && written < 3) {
    await closeOne();
    if (!isOver) written += 1;
    await nextTurn();
  }
  return written;
}

const asked = [
  ['patterns.overview', { days: 3660 }],
  ['patterns.trend', {}],
  ['patterns.recurring', { by: 'cause', days: 3660 }],
  ['patterns.comebacks', {}],
  ['patterns.stock', {}],
  ['patterns.accuracy', {}],
] as const;

describe('a report', () => {
  it('is not changed by what is written while it runs', async () => {
    let written = 0;
    for (const [name, input] of asked) {
      const before = await reader.call(name, input);
      const running = reader.call(name, input);
      // Its snapshot is taken as soon as it begins.
      await nextTurn();
      const beside = await writeBeside(running);
      written += beside;
      expect([name, await running]).toEqual([name, before]);
      // And the next one sees it.
      expect(await reader.call(name, input)).not.toEqual(before);
    }
    expect(written).toBeGreaterThan(5);
  });

  it('says how far it is, and that it is done', async () => {
    const running = reader.call('patterns.trend', {}, { workId: 'watched' });
    const seen = new Set<number>();
    let state: WorkState;
    do {
      state = await progressOf('watched');
      seen.add(state.progress);
      await nextTurn();
    } while (state.state === 'running');
    await running;
    expect(state).toMatchObject({ workId: 'watched', title: 'patterns.trend', state: 'done', progress: 1 });
    expect(state.result).toBeUndefined();
    expect(seen.size).toBeGreaterThan(3);
    expect([...seen].sort((a, b) => a - b)).toEqual([...seen]);
  });

  it('that is cancelled stops, says so, and leaves the reader ready for the next', async () => {
    const running = reader.call('patterns.trend', {}, { workId: 'unwanted' });
    const ended = expect(running).rejects.toMatchObject({ code: 'cancelled' });
    while ((await progressOf('unwanted')).progress === 0) await nextTurn();
    await reader.call('report.cancel', { workId: 'unwanted' });
    await ended;
    const state = await progressOf('unwanted');
    expect(state.state).toBe('cancelled');
    expect(state.progress).toBeLessThan(1);
    expect(state.problem).toMatchObject({ code: 'cancelled' });
    await expect(reader.call('patterns.trend', {})).resolves.toHaveProperty('months');
  });

  it('stops where whoever asked has gone', async () => {
    const gone = new AbortController();
    const request = new Request('http://localhost/api/patterns.trend', {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-work-id': 'gone' },
      body: '{}',
      signal: gone.signal,
    });
    const answer = reader.handle(request);
    for (let state = null as WorkState | null; (state?.progress ?? 0) === 0; ) {
      await nextTurn();
      state = await progressOf('gone').catch(() => null);
    }
    gone.abort();
    const response = await answer;
    expect(response.status).toBe(409);
    expect(await response.json()).toMatchObject({ code: 'cancelled' });
  });

  it('that waits for another answers after it, and can be cancelled while it waits', async () => {
    const first = reader.call('patterns.trend', {}, { workId: 'first' });
    const second = reader.call('patterns.overview', {}, { workId: 'second' });
    const third = reader.call('patterns.accuracy', {}, { workId: 'third' });
    const ended = expect(third).rejects.toMatchObject({ code: 'cancelled' });
    await reader.call('report.cancel', { workId: 'third' });
    await ended;
    await expect(first).resolves.toHaveProperty('months');
    await expect(second).resolves.toHaveProperty('changed');
    await expect(reader.call('patterns.trend', {}, { workId: 'first' })).resolves.toHaveProperty('months');
  });

  it('that is called off before it comes in does not begin', async () => {
    const told = await reader.call('report.cancel', { workId: 'ahead' });
    expect(told).toMatchObject({ workId: 'ahead', state: 'cancelled' });
    await expect(reader.call('patterns.trend', {}, { workId: 'ahead' })).rejects.toMatchObject({
      code: 'cancelled',
    });
    // The word held for that one; the same id asked anew is counted.
    await expect(reader.call('patterns.trend', {}, { workId: 'ahead' })).resolves.toHaveProperty('months');
  });

  it('refuses an id that runs already, and one that nobody knows', async () => {
    const running = reader.call('patterns.trend', {}, { workId: 'twice' });
    await expect(reader.call('patterns.stock', {}, { workId: 'twice' })).rejects.toMatchObject({
      code: 'conflict',
    });
    await running;
    await expect(progressOf('never')).rejects.toMatchObject({
      code: 'not-found',
      where: { field: 'workId' },
    });
  });

  it('never writes: the reader has no way to', async () => {
    await expect(reader.call('shop.rebuildTally', {})).rejects.toMatchObject({ code: 'unknown-procedure' });
  });
});
