import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from '../api/open-shop.ts';

let shop: TestShop;
const aside = mkdtempSync(join(tmpdir(), 'bench-tally-backup-'));
beforeAll(async () => {
  shop = await openShop();
});
afterAll(async () => {
  await shop.close();
  rmSync(aside, { recursive: true, force: true });
});

const openJob = (plate: string) =>
  shop.call('jobs.open', { vehicle: { plate, modelWords: 'x' }, concerns: [{ words: 'no start' }] });

describe('backup and restore', () => {
  it('copies, verifies, previews, restores, and keeps what was there aside', async () => {
    await openJob('BK 1');
    const file = join(aside, 'one.db');
    const made = await shop.call('shop.backup', { path: file });
    expect(made).toMatchObject({ file, jobs: 1, verified: true });
    await openJob('BK 2');
    await openJob('BK 3');

    const preview = await shop.call('shop.restore', { path: file, preview: true });
    expect(preview).toMatchObject({ jobs: 1, jobsLost: 2, keptAside: null });
    expect((await shop.call('shop.status', {})).jobs).toBe(3);

    const restored = await shop.call('shop.restore', { path: file, preview: false });
    expect((await shop.call('shop.status', {})).jobs).toBe(1);
    expect((await shop.call('vehicles.find', { text: 'BK 2' })).vehicles).toEqual([]);
    // Nothing is lost: the former data can be put back.
    await shop.call('shop.restore', { path: restored.keptAside ?? '', preview: false });
    expect((await shop.call('shop.status', {})).jobs).toBe(3);
    expect((await shop.call('vehicles.find', { text: 'BK 2' })).vehicles).toHaveLength(1);
  });

  it('lists the backups of the data folder', async () => {
    await shop.call('shop.backup', {});
    const { backups } = await shop.call('shop.backups', {});
    expect(backups.some((one) => one.kind === 'made')).toBe(true);
    expect(backups.some((one) => one.kind === 'kept-aside')).toBe(true);
  });

  it('never overwrites a file, and leaves no half copy behind', async () => {
    const file = join(aside, 'taken.db');
    writeFileSync(file, 'something of mine');
    await expect(shop.call('shop.backup', { path: file })).rejects.toMatchObject({ code: 'bad-input' });
    expect(readFileSync(file, 'utf8')).toBe('something of mine');
    await expect(
      shop.call('shop.backup', { path: join(aside, 'no', 'such', 'folder.db') }),
    ).rejects.toMatchObject({
      code: expect.stringMatching(/cannot-write|bad-input/),
    });
    expect(readdirSync(aside).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('refuses what is no backup, and one that is damaged; the data in use stays', async () => {
    const jobs = (await shop.call('shop.status', {})).jobs;
    const letter = join(aside, 'letter.db');
    writeFileSync(letter, 'dear customer, thank you for your visit');
    await expect(shop.call('shop.restore', { path: letter, preview: false })).rejects.toMatchObject({
      code: 'bad-file',
    });
    const good = join(aside, 'good.db');
    await shop.call('shop.backup', { path: good });
    const bytes = readFileSync(good);
    bytes.fill(0x5a, 8192, Math.min(bytes.length, 60_000));
    const damaged = join(aside, 'damaged.db');
    writeFileSync(damaged, bytes);
    await expect(shop.call('shop.restore', { path: damaged, preview: false })).rejects.toMatchObject({
      code: expect.stringMatching(/damaged-database|bad-file/),
    });
    expect((await shop.call('shop.status', {})).jobs).toBe(jobs);
    expect(existsSync(join(shop.folder, 'exclusive.lock'))).toBe(false);
  });

  it('leaves one file, that can be read where nothing can be written', async () => {
    const file = join(aside, 'single.db');
    await shop.call('shop.backup', { path: file });
    await shop.call('shop.restore', { path: file, preview: true });
    expect(readdirSync(aside).filter((name) => name.startsWith('single'))).toEqual(['single.db']);
    // SQLite database file format, offset 18: 1 is a file without a log.
    expect(readFileSync(file)[18]).toBe(1);
  });
});

describe('shop data that cannot be opened', () => {
  const damages: Record<string, (whole: Buffer) => Buffer> = {
    'cut in the middle': (whole) => whole.subarray(0, Math.trunc(whole.length / 2)),
    'overwritten by text': () => Buffer.from('not a database at all '.repeat(500)),
    'emptied to no bytes': () => Buffer.alloc(0),
    'with a hole of zeros': (whole) =>
      Buffer.concat([whole.subarray(0, 4096), Buffer.alloc(whole.length - 4096)]),
  };
  it.each(Object.keys(damages))('%s: refused with the reason, left alone, and restored', async (name) => {
    const first = await openShop();
    await first.call('jobs.open', {
      vehicle: { plate: 'RS 1', modelWords: 'x' },
      concerns: [{ words: 'no start' }],
    });
    const { file } = await first.call('shop.backup', {});
    await first.closeKeeping();
    const live = join(first.folder, 'shop.db');
    const harmed = damages[name]?.(readFileSync(live)) ?? Buffer.alloc(0);
    writeFileSync(live, harmed);

    const later = await openShop(first.folder);
    await expect(later.call('jobs.list', {})).rejects.toMatchObject({ code: 'damaged-database' });
    await expect(later.call('shop.backup', {})).rejects.toMatchObject({ code: 'damaged-database' });
    expect(readFileSync(live).equals(harmed)).toBe(true);
    expect((await later.call('shop.backups', {})).backups.map((one) => one.file)).toEqual([file]);
    expect(await later.call('shop.restore', { path: file, preview: true })).toMatchObject({
      jobs: 1,
      jobsLost: null,
    });
    const done = await later.call('shop.restore', { path: file, preview: false });
    expect((await later.call('jobs.list', {})).jobs).toHaveLength(1);
    // The damaged bytes are kept for whoever can read more out of them.
    expect(readFileSync(done.keptAside ?? '').equals(harmed)).toBe(true);
    await later.close();
  });

  it('opens by itself once somebody has put the file right', async () => {
    const first = await openShop();
    await first.closeKeeping();
    const live = join(first.folder, 'shop.db');
    const whole = readFileSync(live);
    writeFileSync(live, 'oh dear');
    const later = await openShop(first.folder);
    await expect(later.call('shop.status', {})).rejects.toMatchObject({ code: 'damaged-database' });
    writeFileSync(live, whole);
    expect(await later.call('shop.status', {})).toMatchObject({ jobs: 0 });
    await later.close();
  });

  it('does not touch a database of some other program', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'bench-tally-stranger-'));
    const live = join(folder, 'shop.db');
    const strange = new Database(live);
    strange.exec('create table recipes (title text)');
    strange.close();
    const before = readFileSync(live);
    const later = await openShop(folder);
    await expect(later.call('shop.status', {})).rejects.toMatchObject({ code: 'damaged-database' });
    await later.closeKeeping();
    expect(readFileSync(live).equals(before)).toBe(true);
    rmSync(folder, { recursive: true });
  });
});
