import { afterAll, beforeAll, expect, it } from 'vitest';
import { createClient } from '../../../src/api/client.ts';
import { openShop, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

const supplier = 'Preview Co';
async function send(text: string, name = 'list.csv'): Promise<string> {
  const client = createClient('http://shop', (input, init) =>
    shop.request(new Request(String(input), { ...init, duplex: 'half' } as RequestInit)),
  );
  return (await client.upload(new Blob([Buffer.from(text, 'latin1')]), name)).uploadId;
}
const preview = (uploadId: string) => shop.call('parts.previewList', { supplier, uploadId });

// The forms of list are RFC 4180 and what is commonly made of it; no single source.
const nasty =
  'Preview Co, Hafenstra\xdfe 3\n\nArtikelnr;Bezeichnung;Netto;Preis\n' +
  'P-1;K\xfchler;3,10;1.234,50\nP-2;"Scheibe; rot";1;8,40\n';

it('names encoding, separator, decimal sign, headings below an address, and the usual columns', async () => {
  const seen = await preview(await send(nasty));
  expect(seen).toMatchObject({
    fileName: 'list.csv',
    encoding: 'windows-1252',
    delimiter: ';',
    decimalSign: ',',
    headingsRow: 3,
    headings: ['Artikelnr', 'Bezeichnung', 'Netto', 'Preis'],
    mapping: { number: 'Artikelnr', title: 'Bezeichnung', price: 'Preis' },
    isRemembered: false,
  });
  expect(seen.rows).toEqual([
    { row: 4, fields: ['P-1', 'Kühler', '3,10', '1.234,50'] },
    { row: 5, fields: ['P-2', 'Scheibe; rot', '1', '8,40'] },
  ]);
});

it('shows the mapping that was used last, and a decimal sign that a person chose is taken', async () => {
  const uploadId = await send(nasty);
  const mapping = { number: 'Artikelnr', price: 'Netto', title: 'Bezeichnung' };
  const { workId } = await shop.call('parts.importPrices', { supplier, uploadId, mapping, dryRun: false });
  while ((await shop.call('work.get', { workId })).state === 'running')
    await new Promise((resolve) => setTimeout(resolve, 5));
  expect(await preview(await send(nasty))).toMatchObject({ mapping, isRemembered: true });

  const text = 'number,price\nX-1,"1,250"\n';
  const read = async (decimalSign?: ',' | '.') => {
    const work = await shop.call('parts.importPrices', {
      supplier: 'Signs',
      text,
      dryRun: true,
      ...(decimalSign ? { decimalSign } : {}),
    });
    for (;;) {
      const state = await shop.call('work.get', { workId: work.workId });
      if (state.state !== 'running') return (state.result as { added: { price: string }[] }).added[0]?.price;
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
  };
  expect(await read()).toBe('1250');
  expect(await read(',')).toBe('1.25');
});

it('leaves unknown headings to a person, and refuses what has no line', async () => {
  const seen = await preview(await send('foo\tbar\n1\t2\n'));
  expect(seen).toMatchObject({ delimiter: '\t', headings: ['foo', 'bar'], mapping: {} });
  await expect(preview(await send('\n\n'))).rejects.toMatchObject({ code: 'bad-file' });
  await expect(preview('01960000-0000-7000-8000-000000000001')).rejects.toMatchObject({ code: 'not-found' });
});
