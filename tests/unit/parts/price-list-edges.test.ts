import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ImportReport, InputOf } from '../../../src/api/contract.ts';
import { openShop, type TestShop } from '../api/open-shop.ts';

/** Price files as suppliers send them, and files that are none. */
let shop: TestShop;
let suppliers = 0;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

type Given = Partial<InputOf<'parts.importPrices'>>;
async function run(given: Given) {
  suppliers += 1;
  const { workId } = await shop.call('parts.importPrices', {
    supplier: `Supplier ${suppliers}`,
    dryRun: true,
    ...given,
  });
  for (;;) {
    const work = await shop.call('work.get', { workId });
    if (work.state !== 'running') return work;
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}
async function load(given: Given): Promise<ImportReport> {
  const work = await run(given);
  if (work.state !== 'done') throw new Error(JSON.stringify(work.problem));
  return work.result as ImportReport;
}
function fileOf(bytes: Uint8Array | string, name = `list-${suppliers}.csv`): string {
  const path = join(shop.folder, name);
  writeFileSync(path, bytes);
  return path;
}
const fromFile = (bytes: Uint8Array | string, more: Given = {}): Promise<ImportReport> =>
  load({ path: fileOf(bytes), ...more });
const pricesOf = (report: ImportReport): string[] => report.added.map((one) => one.price);

describe('line ends, cuts and encodings', () => {
  it('reads CR-only line ends, a trailing delimiter, tabs, a title line, and a line sep=', async () => {
    expect(pricesOf(await fromFile('number;price;\rA-1;1,50;\rA-2;2,50;\r'))).toEqual(['1.50', '2.50']);
    expect(pricesOf(await fromFile('number\tprice\r\nA-1\t1.50\r\n'))).toEqual(['1.50']);
    const titled = await fromFile('Spring prices, all in USD\n\nPart No.,List price\nA-1,1.50\n');
    expect(titled).toMatchObject({ headingsRow: 3, counts: { new: 1 } });
    expect((await fromFile('sep=|\nnumber|price\nA;1|1.5\n')).added[0]?.partNumber).toBe('A;1');
  });

  it('reads records over the borders of pieces, in any encoding', async () => {
    const rows = Array.from({ length: 9000 }, (_, k) => `Ü-${k};"Kühler; ""groß""\r\nNr. ${k}";${k % 90},25`);
    const text = `number;title;price\r\n${rows.join('\r\n')}`.replaceAll(';0,25', ';1,25');
    const utf16 = Buffer.from(`\ufeff${text}`, 'utf16le');
    for (const [bytes, encoding] of [
      [Buffer.from(text), 'utf-8'],
      [Buffer.from(`\ufeff${text}`), 'utf-8'],
      [Buffer.from(text, 'latin1'), 'windows-1252'],
      [utf16, 'utf-16le'],
      [utf16.subarray(2), 'utf-16le'],
      [Buffer.from(utf16).swap16(), 'utf-16be'],
    ] as const) {
      const report = await fromFile(bytes);
      expect(report).toMatchObject({ encoding, counts: { new: 9000, rejected: 0 } });
      expect(report.added[0]).toMatchObject({ partNumber: 'Ü-0', title: 'Kühler; "groß" Nr. 0' });
    }
  });

  it('lets only its row answer for a bad byte far down', async () => {
    const rows = Array.from({ length: 4000 }, (_, k) => `A-${k},1.50,Kühler ${k}\n`).join('');
    const broken = Buffer.concat([
      Buffer.from(`number,price,title\n${rows}`),
      Buffer.from([0x42, 0x2d, 0x31, 0x2c, 0x31, 0x2c, 0xfc, 0x0a]),
      Buffer.from('B-2,2.50,Bügel\n'),
    ]);
    const report = await fromFile(broken);
    expect(report.counts).toMatchObject({ new: 4001, rejected: 1 });
    expect(report.rejected[0]).toMatchObject({ row: 4002, why: 'some letters cannot be read' });
  });

  it('rejects rows with NUL bytes, quotes that never close, and lines that are far too long, and goes on', async () => {
    const long = 'x'.repeat(1_000_000);
    const text = [
      'number,price,title',
      'A-1,1.00,good',
      'A-2,2.00,ba\0d',
      `A-3,3.00,${long}`,
      `A-4,4.00,"${long}"`,
      'A-5,5.00,good',
      'A-6,6.00,"never closed',
      'A-7,7.00,good',
      'A-8,8.00,3/8" hose and 1" clamp',
      '"A-9",9.00,"said ""so"""',
    ].join('\n');
    const report = await fromFile(text);
    expect(report.counts).toMatchObject({ rows: 9, new: 5, rejected: 4 });
    expect(report.rejected.map((one) => one.row)).toEqual([3, 4, 5, 7]);
    expect(report.rejected[0]?.why).toContain('damaged');
    expect(report.rejected[1]?.why).toContain('100,000 signs');
    expect(report.rejected[3]?.why).toContain('never closed');
    expect(report.added.at(-1)?.title).toBe('said "so"');
  });

  it('does not tie lines together over inch signs at the start of fields', async () => {
    const report = await fromFile(
      'number;title;price\nA-1;"3/8 hose;1,00\nA-2;"5/8 hose;2,00\nA-3;belt;3,00\n',
    );
    expect(report.counts).toMatchObject({ rows: 3, new: 1, rejected: 2 });
    expect(report.rejected.map((one) => one.row)).toEqual([2, 3]);
  });
});

describe('cells', () => {
  it.each([
    ['1.234,56', ',', '1234.56'],
    ['1,234.56', '.', '1234.56'],
    ['1 234,56', ',', '1234.56'],
    ["1'234.56", '.', '1234.56'],
    ['1\u202f234,56 €', ',', '1234.56'],
    ['€ 12,50', ',', '12.50'],
    ['$12.50', '.', '12.50'],
    ['CHF 12.50', '.', '12.50'],
    ['Fr. 12.50', '.', '12.50'],
    ['12,-', ',', '12'],
    ['12.–', '.', '12'],
    ['.50', '.', '0.50'],
    ['1,23,456.00', '.', '123456.00'],
    ['0.125', ',', '0.125'],
    ['999999999', '.', '999999999'],
  ] as const)('the price %s (decimals after %s) is %s', async (cell, decimalSign, expected) => {
    const report = await load({ text: `number\tprice\nA-1\t${cell}`, decimalSign });
    expect(pricesOf(report), JSON.stringify(report.rejected)).toEqual([expected]);
  });

  it.each([
    ['-5.00', 'below zero'],
    ['5.00-', 'below zero'],
    ['(5.00)', 'below zero'],
    ['0.00', 'the price is 0'],
    ['1000000000', 'above 999,999,999'],
    ['1.23456', 'more than 4 decimals'],
    ['15%', 'no number'],
    ['12.50/100', 'no number'],
    ['1.5E+03', 'no number'],
    ['=A2*1.2', 'a formula'],
    ['on request', 'no number'],
    ['', 'missing'],
  ])('the price %s is rejected: %s', async (cell, why) => {
    const report = await load({ text: `number\tprice\nA-1\t${cell}\nA-2\t2.50` });
    expect(report.counts).toMatchObject({ new: 1, rejected: 1 });
    expect(report.rejected[0]).toMatchObject({ row: 2, why: expect.stringContaining(why) });
  });

  it('takes numbers and titles out of what spreadsheets put around them', async () => {
    const text = 'number\tprice\ttitle\n\'00123\t1.50\t=SUM(A1)\n="00456"\t2.50\t\'=B1\n';
    const { added } = await load({ text });
    expect(added.map((one) => [one.partNumber, one.title])).toEqual([
      ['00123', '=SUM(A1)'],
      ['00456', '=B1'],
    ]);
  });

  it('keeps a row whose barcode is wrong, and says so', async () => {
    const report = await load({ text: 'number,price,ean\nA-1,1.50,7501031311308\nA-2,2.50,7.50103E+12\n' });
    expect(report.counts).toMatchObject({ new: 2, rejected: 0, noted: 2 });
    expect(report.notes.map((one) => one.row)).toEqual([2, 3]);
  });

  it('reads a currency beside the price or in its column, and refuses words for it', async () => {
    const text = 'number;price;currency\nA-1;12,50 €;\nA-2;12,50;chf\nA-3;12,50;franc\nA-4;£ 9,50;\n';
    const report = await load({ text });
    expect(report.added.map((one) => one.currency)).toEqual(['EUR', 'CHF', 'GBP']);
    expect(report.rejected[0]?.why).toContain('“FRANC” is no code');
    // Three letters beside a price need not be money: ISO 4217 knows no PCS and no SET.
    const beside = await load({
      text: 'number;price;currency\nB-1;12,50 PCS;\nB-2;12,50;SET\nB-3;12,50 NOK;\n',
    });
    expect(beside.added.map((one) => one.currency)).toEqual(['NOK']);
    expect(beside.rejected.map((one) => one.why)).toEqual([
      'no currency has the code “PCS” (ISO 4217)',
      'no currency has the code “SET” (ISO 4217)',
    ]);
  });

  it('refuses what would be guessed at: shifted fields, sums, dates, cut numbers, signs of several currencies', async () => {
    const wide = await load({ text: 'number,title,price\nA-1,x,1,234.50\nA-2,y,2.50,,\nA-3,z,3.50\n' });
    expect(wide.added.map((one) => one.partNumber)).toEqual(['A-2', 'A-3']);
    expect(wide.rejected[0]).toMatchObject({ row: 2, why: expect.stringContaining('more fields than') });
    const odd = await load({
      text: 'number;price\nTotal;4,00\nGrand total: 2;4,00\n#REF!;1,50\n4.00638E+12;1,50\nA-1;1. Mrz\nA-2;¥500\nA-3;C$ 5,50\nA-4;$5,50\nA-5;5,50 zł\nTOTAL-7;1,50\n',
    });
    expect(odd.rejected.map((one) => one.row)).toEqual([2, 3, 4, 5, 6, 7, 8]);
    expect(odd.added.map((one) => `${one.partNumber} ${one.currency}`)).toEqual([
      'A-4 USD',
      'A-5 PLN',
      'TOTAL-7 USD',
    ]);
  });

  it('takes either of two columns with equal headings', async () => {
    const text = 'Number;Price;Price\nA-1;1,50;2,50\n';
    for (const [price, expected] of [
      ['#2', '1.50'],
      ['#C', '2.50'],
      ['Price #3', '2.50'],
    ] as const) {
      const report = await load({ text, mapping: { number: 'Number', price } });
      expect(pricesOf(report)).toEqual([expected]);
      expect(report.mapping.price).toBe(expected === '1.50' ? 'Price #2' : 'Price #3');
    }
    const work = await run({ text, mapping: { number: 'Number', price: '#9' } });
    expect(work).toMatchObject({ state: 'failed', problem: { code: 'bad-file' } });
  });

  it('hands rejected cells back so that a spreadsheet does not calculate them, and takes them again', async () => {
    const { rejectsFile } = await load({ text: 'number,price,title\n=1+1,ask,"=HYPERLINK(""x"")"\n' });
    const file = readFileSync(rejectsFile as string, 'utf8');
    expect(file).toContain("'=1+1");
    const again = await load({ text: file.replace('ask', '3.50') });
    expect(again.added[0]).toMatchObject({ partNumber: '=1+1', title: '=HYPERLINK("x")' });
  });
});

describe('files that are no list', () => {
  it.each([
    ['a PDF', Buffer.from('%PDF-1.7\n1 0 obj'), /PDF/],
    ['an old spreadsheet', Buffer.from('d0cf11e0a1b11ae1', 'hex'), /old kind/],
    ['bytes', Buffer.from(Array.from({ length: 5000 }, (_, k) => (k * 37) % 7)), /not those of a text/],
    ['a broken archive', Buffer.from('PK\u0003\u0004 and no more'), /no spreadsheet/],
    ['an empty file', Buffer.alloc(0), /no line of headings/],
    ['prose', Buffer.from('Dear customer,\nour prices have changed.\n'), /no line of headings/],
  ])('%s is refused whole', async (_, bytes, message) => {
    const work = await run({ path: fileOf(bytes) });
    expect(work).toMatchObject({ state: 'failed', problem: { code: 'bad-file' } });
    expect(JSON.stringify(work.problem)).toMatch(message);
  });

  it('so is a folder, and a list of headings alone changes nothing', async () => {
    mkdirSync(join(shop.folder, 'a-folder'));
    await expect(run({ path: join(shop.folder, 'a-folder') })).rejects.toMatchObject({
      code: 'bad-file',
      message: expect.stringContaining('is a folder'),
    });
    const report = await fromFile('number,price\n', { dryRun: false });
    expect(report.counts).toMatchObject({ rows: 0, new: 0, rejected: 0 });
  });

  it('takes a spreadsheet by what it is, whatever it is called', async () => {
    const sheet = readFileSync(join(import.meta.dirname, '../../reference/data/price-list.xlsx'));
    expect((await load({ path: fileOf(sheet, 'list.csv') })).counts).toMatchObject({ rows: 2, new: 1 });
  });
});

describe('many rows', () => {
  const count = 40_000;
  // 7919 is prime: every number comes once, in no order.
  const line = (k: number): string =>
    `N-${(k * 7919) % count},${((k * 7919) % 500) + 1}.50,Gasket set ${k % 7}`;
  const shuffled = `number,price,title\n${Array.from({ length: count }, (_, k) => line(k)).join('\n')}`;

  it('come in no order, some twice: the first one counts, the others are told with its row', async () => {
    const twice = `${shuffled}\n${line(5)}\nN-7919,1.50,again\nN 7919,2.50,and again\n`;
    const report = await fromFile(twice, { supplier: 'Shuffled', dryRun: false });
    expect(report.counts).toMatchObject({ rows: count + 3, new: count, rejected: 3 });
    expect(report.rejected.map((one) => [one.row, one.why])).toEqual([
      [count + 2, `the number N-${(5 * 7919) % count} stands in row 7 already`],
      [count + 3, 'the number N-7919 stands in row 3 already'],
      [count + 4, 'the number N 7919 stands in row 3 already'],
    ]);
    expect(readFileSync(report.rejectsFile as string, 'utf8')).toContain('N 7919,2.50,and again,');
    expect(readdirSync(join(shop.folder, 'sorting'))).toEqual([]);

    const again = await fromFile(shuffled.replace('N-0,1.50', 'N-0,9.50'), {
      supplier: 'Shuffled',
      dryRun: false,
    });
    expect(again.counts).toMatchObject({ new: 0, changed: 1, unchanged: count - 1 });
    expect((await shop.call('parts.find', { text: 'N-0' })).parts[0]?.prices[0]?.price.amount).toBe(950);
  });

  it('are found by words, also half typed, also without accents, once each', async () => {
    await fromFile('number,price,title\nW-1,1,Überwurfmutter M8\nW-2,2,Überwurfring\n', {
      supplier: 'Words',
      dryRun: false,
    });
    await fromFile('number,price,title\nW-1,3,Überwurfmutter M8\n', { supplier: 'Words', dryRun: false });
    const find = async (text: string) =>
      (await shop.call('parts.find', { text })).parts.map((part) => part.partNumber);
    expect(await find('überwurfm')).toEqual(['W-1']);
    expect(await find('uberwurf')).toEqual(['W-1', 'W-2']);
    expect(await find('m8 uberwurfmutter')).toEqual(['W-1']);
    expect(await find('gasket set 3')).toHaveLength(20);
    // The whole word counts before what it begins.
    const titles = (await shop.call('parts.find', { text: 'gasket set 3' })).parts.map((part) => part.title);
    expect(new Set(titles)).toEqual(new Set(['Gasket set 3']));
    expect(await find('überwurfmutter m')).toEqual(['W-1']);
  });

  it('that were given up are not found, and leave the word index sound', async () => {
    const { workId } = await shop.call('parts.importPrices', {
      supplier: 'Given up',
      text: shuffled.replaceAll('N-', 'Z-').replaceAll('Gasket', 'Zylinderkopf'),
      dryRun: false,
    });
    for (;;) {
      const work = await shop.call('work.get', { workId });
      if (work.progress > 0.7) await shop.call('work.cancel', { workId });
      if (work.state !== 'running') {
        expect(work.state).toBe('cancelled');
        break;
      }
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect((await shop.call('parts.find', { text: 'zylinderkopf' })).parts).toEqual([]);
    expect((await shop.call('parts.find', { text: 'Z-1' })).parts).toEqual([]);
    const report = await load({
      supplier: 'Given up',
      text: 'number,price,title\nZ-1,1,Zylinderkopf\n',
      dryRun: false,
    });
    expect(report.counts.new).toBe(1);
    expect((await shop.call('parts.find', { text: 'zylinderk' })).parts).toHaveLength(1);
  });
});
