import { existsSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createClient } from '../../../src/api/client.ts';
import type { ImportReport } from '../../../src/api/contract.ts';
import { receiveUpload, sweepUploads } from '../../../src/store/index.ts';
import { openShop, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(() => shop.close());

const client = () =>
  createClient('http://shop', (input, init) =>
    shop.request(new Request(String(input), { ...init, duplex: 'half' } as RequestInit)),
  );
const kept = (): string[] =>
  existsSync(join(shop.folder, 'uploads')) ? readdirSync(join(shop.folder, 'uploads')) : [];

async function run(uploadId: string, more: { dryRun: boolean; mapping?: object }) {
  const { workId } = await shop.call('parts.importPrices', { supplier: 'Upload Co', uploadId, ...more });
  for (;;) {
    const work = await shop.call('work.get', { workId });
    if (work.state !== 'running') return work;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

describe('a file handed over by a window', () => {
  it('is read for a dry run, tried again after a failure, and used up by the import', async () => {
    const bytes = Buffer.from('number;price;title\r\nU-1;1,50;Kühler\r\nU-2;ask;x\r\n', 'latin1');
    const { uploadId, bytes: received } = await client().upload(new Blob([bytes]), 'März.csv');
    expect(received).toBe(bytes.length);
    const dry = await run(uploadId, { dryRun: true });
    expect((dry.result as ImportReport).counts).toMatchObject({ new: 1, rejected: 1 });
    const bad = await run(uploadId, { dryRun: false, mapping: { number: 'nowhere', price: 'price' } });
    expect(bad).toMatchObject({ state: 'failed', problem: { code: 'bad-file' } });
    expect(kept()).toHaveLength(2);
    const done = await run(uploadId, { dryRun: false });
    expect(done.state).toBe('done');
    expect((await shop.call('parts.find', { text: 'u1' })).parts[0]?.title).toBe('Kühler');
    expect(kept()).toEqual([]);
    await expect(
      shop.call('parts.importPrices', { supplier: 'Upload Co', uploadId, dryRun: true }),
    ).rejects.toMatchObject({ code: 'not-found', where: { field: 'uploadId' } });

    const name = (done.result as ImportReport).rejectsName as string;
    const answer = await shop.request(new Request(client().rejectsAddress(name)));
    expect(answer.headers.get('content-disposition')).toBe(`attachment; filename="${name}"`);
    expect(await answer.text()).toContain('U-2,ask,x,3,');
  });

  it('may be a spreadsheet', async () => {
    const sheet = await readFile(join(import.meta.dirname, '../../reference/data/price-list.xlsx'));
    const { uploadId } = await client().upload(new Blob([sheet]), 'List.XLSX');
    expect((await run(uploadId, { dryRun: false })).result).toMatchObject({ counts: { rows: 2, new: 1 } });
  });

  it('is refused as a form of another site could send it, and when it is too long', async () => {
    const post = (headers: Record<string, string>, body: BodyInit = 'number,price') =>
      shop.request(new Request('http://shop/api/uploads', { method: 'POST', headers, body }));
    for (const type of ['text/plain', 'multipart/form-data; boundary=x', 'application/json'])
      expect((await post({ 'content-type': type })).status, type).toBe(400);
    const octets = { 'content-type': 'application/octet-stream' };
    expect((await post({ ...octets, 'content-length': String(1024 ** 3) })).status).toBe(413);
    expect(kept()).toEqual([]);
    const endless = new ReadableStream<Uint8Array>({
      pull: (controller) => controller.enqueue(new Uint8Array(1024)),
    });
    await expect(
      receiveUpload(shop.folder, { id: 'x', name: 'x', nowMs: 0, most: 10_000 }, endless),
    ).rejects.toMatchObject({ code: 'too-large' });
    expect(kept()).toEqual([]);
  });

  it('leaves nothing when it breaks off', async () => {
    let sent = 0;
    const broken = new ReadableStream<Uint8Array>({
      pull(controller) {
        sent += 1;
        if (sent > 3) controller.error(new Error('gone'));
        else controller.enqueue(new Uint8Array(1000));
      },
    });
    const answer = await shop.request(
      new Request('http://shop/api/uploads', {
        method: 'POST',
        headers: { 'content-type': 'application/octet-stream' },
        body: broken,
        duplex: 'half',
      } as RequestInit),
    );
    expect(answer.status).toBe(400);
    expect(kept()).toEqual([]);
  });

  it('is swept when it was left too long, and at the next start', async () => {
    const { uploadId } = await client().upload(new Blob(['number,price']), 'old.csv');
    const folder = join(shop.folder, 'uploads');
    await mkdir(folder, { recursive: true });
    writeFileSync(join(folder, 'coming.upload.part'), 'half');
    shop.pass(1);
    const { uploadId: next } = await client().upload(new Blob(['number,price']), 'new.csv');
    expect(kept().sort()).toEqual(['coming.upload.part', `${next}.name`, `${next}.upload`].sort());
    await expect(
      shop.call('parts.importPrices', { supplier: 'X', uploadId, dryRun: true }),
    ).rejects.toMatchObject({ code: 'not-found' });
    utimesSync(join(folder, `${next}.upload`), 1, 1);
    sweepUploads(shop.folder);
    expect(kept()).toEqual([]);
  });

  it('cannot be named by a path, nor can a file of rejected lines', async () => {
    await expect(
      shop.callRaw('parts.importPrices', { supplier: 'X', uploadId: '../../shop.db', dryRun: true }),
    ).rejects.toMatchObject({ code: 'bad-input' });
    for (const name of ['..%2Fshop.db', '%2e%2e', 'none.csv', 'a%00.csv'])
      expect((await shop.request(new Request(`http://shop/api/rejects/${name}`))).status, name).toBe(404);
  });
});
