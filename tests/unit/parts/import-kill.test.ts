import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import type { ImportReport } from '../../../src/api/contract.ts';
import { openHandler, systemClock } from '../../../src/api/index.ts';
import { findDamage, openStore } from '../../../src/store/index.ts';
import { openShop, seedFolder, type TestShop } from '../api/open-shop.ts';

const folder = mkdtempSync(join(tmpdir(), 'bench-tally-import-kill-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const rows = 60_000;
/** Ascending to the middle, then descending: rows in order and rows that wait for theirs. */
const keyAt = (k: number): number => (k < rows / 2 ? k * 2 : 2 * (rows - k) - 1);
const list = (word: string, price: string): string =>
  `number;title;price\n${Array.from({ length: rows }, (_, k) => `K-${String(keyAt(k)).padStart(6, '0')};${word};${price}`).join('\n')}\n`;

/** Starts an import in a program of its own and kills it once it is so far. */
function killAt(path: string, progress: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const child = spawn(
      process.execPath,
      ['--no-warnings', join(import.meta.dirname, 'import-kill-child.ts'), join(folder, 'shop'), path],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    let errors = '';
    child.stderr.on('data', (chunk: Buffer) => {
      errors += chunk.toString();
    });
    child.stdout.on('data', (chunk: Buffer) => {
      const last = Number(/running (\S+)\n$/.exec(chunk.toString())?.[1] ?? 0);
      if (last >= progress) child.kill('SIGKILL');
    });
    child.on('exit', (code, signal) => {
      if (signal === 'SIGKILL') resolve();
      else reject(new Error(`The import ended before it was killed (${code}): ${errors}`));
    });
  });
}

async function load(shop: TestShop, text: string): Promise<ImportReport> {
  const { workId } = await shop.call('parts.importPrices', { supplier: 'Nordic Moto', text, dryRun: false });
  for (;;) {
    const work = await shop.call('work.get', { workId });
    if (work.state === 'done') return work.result as ImportReport;
    if (work.state !== 'running') throw new Error(JSON.stringify(work.problem));
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

it('an import that is killed leaves the old prices whole and shows nothing of the new ones', async () => {
  const shopFolder = join(folder, 'shop');
  const first = await openShop(shopFolder);
  expect((await load(first, list('lever', '10.00'))).counts).toMatchObject({ new: rows, rejected: 0 });
  await first.closeKeeping();
  const path = join(folder, 'new.csv');
  writeFileSync(path, list('blinker', '99.00'));

  // While rows in order go in; while the others are sorted; while those follow.
  for (const progress of [0.2, 0.55, 0.8]) {
    await killAt(path, progress);
    const store = await openStore(shopFolder, 'call', Date.now());
    const { raw } = store.connection;
    expect(findDamage(raw)).toEqual([]);
    const states = raw.prepare('select state, count(*) as n from price_imports group by state').all();
    expect(states).toContainEqual({ state: 'visible', n: 1 });
    expect(states).toContainEqual({ state: 'running', n: 1 });
    // The kill came in the middle: some of the new list is there, and hidden.
    const hidden = raw.prepare("select count(*) as n from price_rows where price = '99.00'").get() as {
      n: number;
    };
    expect(hidden.n).toBeGreaterThan(0);
    expect(hidden.n).toBeLessThan(rows);
    await store.close();

    const shop = await openShop(shopFolder);
    for (const k of [0, 7, rows - 1]) {
      const number = `K-${String(k).padStart(6, '0')}`;
      const found = JSON.stringify(await shop.call('parts.find', { text: number, limit: 5 }));
      expect(found, number).toContain('"amount":1000,');
      expect(found, number).not.toContain('"amount":9900,');
    }
    expect(JSON.stringify(await shop.call('parts.find', { text: 'blinker', limit: 50 }))).not.toContain(
      'K-0',
    );
    await shop.closeKeeping();
  }

  // What was cut off does not stand in the way of the next list, and is taken away by it.
  const last = await openShop(shopFolder);
  expect((await load(last, list('blinker', '99.00'))).counts).toMatchObject({ changed: rows, rejected: 0 });
  const found = JSON.stringify(await last.call('parts.find', { text: 'K-000007', limit: 5 }));
  expect(found).toContain('"amount":9900,');
  await last.closeKeeping();
  const store = await openStore(shopFolder, 'call', Date.now());
  expect(store.connection.raw.prepare('select count(*) as n from price_rows').get()).toEqual({ n: 2 * rows });
  expect(findDamage(store.connection.raw)).toEqual([]);
  await store.close();
});

it('what it had on the disk is swept at the next start of the program', async () => {
  const dataFolder = join(folder, 'swept');
  for (const name of ['sorting', 'uploads']) {
    mkdirSync(join(dataFolder, name), { recursive: true });
    writeFileSync(join(dataFolder, name, 'left.lines'), 'x');
  }
  const start = async (door: 'call' | 'browser'): Promise<void> => {
    const handler = await openHandler({
      dataFolder,
      door,
      seedFolder,
      programVersion: 'test',
      clock: systemClock,
      newId: () => '0190a000-0000-7000-8000-000000000001',
    });
    await handler.close();
  };
  // A call from the shell may run beside a program whose files these are.
  await start('call');
  expect(existsSync(join(dataFolder, 'sorting', 'left.lines'))).toBe(true);
  await start('browser');
  expect(readdirSync(join(dataFolder, 'sorting'))).toEqual([]);
  const uploads = join(dataFolder, 'uploads');
  expect(existsSync(uploads) ? readdirSync(uploads) : []).toEqual([]);
});
