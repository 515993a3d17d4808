import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ImportReport, InputOf } from '../../../src/api/contract.ts';
import { openShop, type TestShop } from '../api/open-shop.ts';

let shop: TestShop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(() => shop.close());

type Given = Omit<InputOf<'parts.importPrices'>, 'dryRun' | 'supplier'> & {
  dryRun?: boolean;
  supplier?: string;
};

async function ended(workId: string) {
  for (;;) {
    const work = await shop.call('work.get', { workId });
    if (work.state !== 'running') return work;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}
async function load(given: Given): Promise<ImportReport> {
  const { workId } = await shop.call('parts.importPrices', {
    supplier: 'Invented Supply',
    dryRun: false,
    ...given,
  });
  const work = await ended(workId);
  if (work.state !== 'done') throw new Error(JSON.stringify(work.problem));
  return work.result as ImportReport;
}
const price = async (number: string) =>
  (await shop.call('parts.find', { text: number })).parts[0]?.prices[0]?.price;

describe('a list of a supplier', () => {
  it('shows in a dry run what would change, and changes nothing', async () => {
    const report = await load({ text: 'number,price\nA-1,10.00\n', dryRun: true });
    expect(report.counts).toEqual({ rows: 1, new: 1, changed: 0, unchanged: 0, rejected: 0, noted: 0 });
    expect(await price('A1')).toBeUndefined();
    expect((await shop.call('parts.suppliers', {})).suppliers).toEqual([]);
  });

  it('is seen when it is whole, and keeps the history of prices', async () => {
    await load({ text: 'number,price,description\nA-1,10.00,Thing\nA-2,5,Other\n' });
    const second = await load({
      text: 'number,price,description\nA-1,11.50,Thing\nA-2,5.00,Other\nA-3,1,New\n',
    });
    expect(second.counts).toEqual({ rows: 3, new: 1, changed: 1, unchanged: 1, rejected: 0, noted: 0 });
    expect(second.changed).toEqual([{ partNumber: 'A-1', from: '10.00', to: '11.50', currency: 'USD' }]);
    expect(await price('a 1')).toEqual({ amount: 1150, currency: 'USD' });
    expect(await price('A2')).toEqual({ amount: 500, currency: 'USD' });
  });

  it('reads semicolons, decimal commas, Windows-1252, other headings, lines before them, and blank lines', async () => {
    const text =
      'Preisliste 2026\r\n\r\nArtikelnr.;Bezeichnung;Preis\r\n00-12;Kühler;1.234,50\r\n\r\n00-13;"Schraube; M6 ""lang""";0,85\r\n;;\r\n';
    const path = join(shop.folder, 'liste.csv');
    writeFileSync(path, Buffer.from(text, 'latin1'));
    const report = await load({ path });
    expect(report).toMatchObject({
      encoding: 'windows-1252',
      delimiter: ';',
      decimalSign: ',',
      headingsRow: 3,
      counts: { rows: 2, new: 2, rejected: 0 },
      mapping: { number: 'Artikelnr.', title: 'Bezeichnung', price: 'Preis' },
    });
    const { parts } = await shop.call('parts.find', { text: '12' });
    expect(parts[0]).toMatchObject({ title: 'Kühler', partNumber: '00-12' });
    expect((await shop.call('parts.find', { text: '0013' })).parts[0]?.title).toBe('Schraube; M6 "lang"');
  });

  it('stands rejected lines in a file with row and reason, which can be mended and fed again', async () => {
    const report = await load({
      text: [
        'number,price,ean',
        'A-1,10.00,',
        ',4.00,',
        'A-2,on request,',
        'A 1,12.00,',
        'A-3,-5,',
        'A-4,0,',
        '"A-5,7.00,',
        'A-6,8.00,7501031311308',
        'A-7,9.00,7501031311309',
      ].join('\n'),
    });
    expect(report.counts).toEqual({ rows: 9, new: 3, changed: 0, unchanged: 0, rejected: 6, noted: 1 });
    expect(report.rejected.map((one) => one.row)).toEqual([3, 4, 5, 6, 7, 8]);
    const whys = report.rejected.map((one) => one.why);
    expect(whys[0]).toContain('number is missing');
    expect(whys[1]).toContain('“on request” is no number');
    expect(whys[2]).toContain('stands in row 2 already');
    expect(whys[5]).toContain('never closed');
    // A mistyped barcode is no reason to lose a price: the row is kept without it, and said.
    expect(report.notes).toMatchObject([{ row: 9, note: expect.stringContaining('last digit should be 9') }]);
    expect(await price('A6')).toEqual({ amount: 800, currency: 'USD' });
    const file = readFileSync(report.rejectsFile as string, 'utf8');
    expect(file.split('\n')[0]).toBe('number,price,ean,row,reason');
    const mended = file.replace('on request', '14.00');
    const again = await load({ text: mended });
    expect(again.counts).toMatchObject({ new: 1, rejected: 4, changed: 1 });
    expect(await price('A2')).toEqual({ amount: 1400, currency: 'USD' });
  });

  it('remembers the mapping, takes changed headings it knows, and names what it does not find', async () => {
    await load({ text: 'Code,Our ask\nB-1,3\n', mapping: { number: 'Code', price: 'Our ask' } });
    const again = await load({ text: 'Our ask,Code\n4,B-1\n' });
    expect(again.counts.changed).toBe(1);
    expect((await load({ text: 'Part No,List Price\nB-1,5\n' })).counts.changed).toBe(1);
    await expect(load({ text: 'Kode,Pris\nB-1,6\n' })).rejects.toThrow(/Kode.*Pris/);
    await expect(load({ text: '' })).rejects.toThrow(/no line of headings/);
    await expect(
      load({ text: 'number,price\nB-1,6\n', mapping: { number: 'number', price: 'nowhere' } }),
    ).rejects.toThrow(/nowhere/);
    expect(await price('B1')).toEqual({ amount: 500, currency: 'USD' });
  });

  it('lets jobs be saved beside it, is cancelled whole, and begins anew', async () => {
    const rows = Array.from({ length: 30_000 }, (_, k) => `C-${k},${(k % 900) + 1}.50`);
    const text = `number,price\n${rows.join('\n')}`;
    const { workId } = await shop.call('parts.importPrices', { supplier: 'Big', text, dryRun: false });
    await expect(shop.call('parts.importPrices', { supplier: 'big', text, dryRun: false })).rejects.toThrow(
      /already/,
    );
    const job = await shop.call('jobs.open', { concerns: [{ words: 'saved beside' }] });
    expect((await shop.call('work.get', { workId })).state).toBe('running');
    expect(await price('C-1')).toBeUndefined();
    await shop.call('work.cancel', { workId });
    expect((await ended(workId)).state).toBe('cancelled');
    expect(await price('C-1')).toBeUndefined();
    expect((await shop.call('jobs.get', { jobId: job.jobId })).number).toBe(job.number);
    const report = await load({ text, supplier: 'Big' });
    expect(report.counts.new).toBe(30_000);
    expect(await price('C-1')).toEqual({ amount: 250, currency: 'USD' });
  });

  it('reads a spreadsheet (built by hand after ECMA-376, with inline strings)', async () => {
    const report = await load({ path: join(import.meta.dirname, '../../reference/data/price-list.xlsx') });
    expect(report.counts).toMatchObject({ rows: 2, new: 1, rejected: 1 });
    expect(report.rejected[0]).toMatchObject({ row: 3, why: expect.stringContaining('“ask” is no number') });
    expect(await price('X1')).toEqual({ amount: 1250, currency: 'USD' });
  });

  it('refuses what is no list', async () => {
    await expect(load({ path: join(shop.folder, 'none.csv') })).rejects.toThrow(/cannot be read/);
    await expect(load({})).rejects.toThrow(/one of path, text and uploadId/);
    const path = join(shop.folder, 'bad.xlsx');
    writeFileSync(path, 'no spreadsheet');
    await expect(load({ path })).rejects.toThrow(/no spreadsheet/);
  });
});
