import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser } from './find-browser.ts';
import { barriers, overhang, picture } from './look-over.ts';
import { desk, type OpenShop, openShop, tablet } from './open-shop.ts';

let browser: Browser;
let shop: OpenShop;
beforeAll(async () => {
  browser = await openBrowser();
  shop = await openShop(browser);
});
afterAll(async () => {
  await shop?.close();
  await browser?.close();
});

/** A page that waits longer than usual: the first one finds a program that still makes its search ready. */
async function openPage(look: Parameters<OpenShop['page']>[0]): Promise<Page> {
  const page = await shop.page(look);
  page.setDefaultTimeout(90_000);
  return page;
}

/** One procedure, asked from the page as the page itself would. */
const call = (page: Page, name: string, input: unknown) =>
  page.evaluate(
    async ([path, body]) => {
      const answer = await fetch(path as string, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(body),
      });
      return answer.json();
    },
    [`/api/${name}`, input] as const,
  );

const supplier = 'Südliche Zubehör';
// Semicolons, decimal commas, an address above the headings, a separator inside quotes, Windows-1252, a price in words.
const list = [
  'Südliche Zubehör;;;',
  '',
  'Artikelnr;Bezeichnung;Listenpreis;EAN',
  'ZB 100-1;Kühlerdüse;12,50;6291041500213',
  'ZB 100-2;"Scheibe; rot";1.234,50;',
  'ZB 100-3;Bremsbelag vorne;auf Anfrage;',
  '',
].join('\r\n');

test('a nasty price list is tried out, brought in, and its rejected line follows mended', async () => {
  const page = await openPage({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/counter/parts`);
  await page.getByRole('link', { name: 'Bring in a price list' }).click();
  await page.getByLabel('Supplier').fill(supplier);
  await page
    .getByLabel('Price list')
    .setInputFiles({ name: 'Preise.csv', mimeType: 'text/csv', buffer: Buffer.from(list, 'latin1') });
  await page.getByText('Windows-1252, fields parted by semicolons; the headings stand in row 3').waitFor();
  expect(await page.getByLabel('What “Listenpreis” stands for').inputValue()).toBe('price');
  expect(await page.getByLabel(/^comma/).isChecked()).toBe(true);
  // A column that should not be used is left out, and comes back.
  await page.getByLabel('What “Listenpreis” stands for').selectOption('');
  await page.getByText('Say which column is the price.').waitFor();
  await page.getByLabel('What “Listenpreis” stands for').selectOption('price');
  await page.getByRole('button', { name: 'See what would change' }).click();
  await page
    .getByText('3 rows: 2 new, 0 changed, 0 unchanged, 1 rejected. Nothing is written yet.')
    .waitFor();
  await page.getByRole('cell', { name: 'the price “auf Anfrage” is no number' }).waitFor();
  await picture(page, 'price-list-trial');
  expect((await call(page, 'parts.find', { text: 'ZB 100-1' })).parts).toEqual([]);

  await page.getByRole('button', { name: 'Bring in 2 prices' }).click();
  await page.getByRole('heading', { name: 'The list is in' }).waitFor();
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Download the 1 rejected line' }).click(),
  ]);
  const rejects = readFileSync(await file.path(), 'utf8');
  expect(rejects).toContain('auf Anfrage');
  await page.getByLabel('Price list').setInputFiles({
    name: 'mended.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(rejects.replace('auf Anfrage', '"27,50"')),
  });
  await page.getByText('The columns are set as they were for the last list of this supplier.').waitFor();
  await page.getByRole('button', { name: 'See what would change' }).click();
  await page.getByText('1 row: 1 new, 0 changed, 0 unchanged, 0 rejected.').waitFor();
  await page.getByRole('button', { name: 'Bring in 1 price' }).click();
  await page.getByRole('heading', { name: 'The list is in' }).waitFor();

  // A scanner types the digits and presses Enter: the part opens with its price.
  await page.goto(`${shop.origin}/counter/parts`);
  await page.getByRole('heading', { name: 'Parts', exact: true }).waitFor();
  await page.keyboard.type('6291041500213');
  await page.keyboard.press('Enter');
  const part = page.getByRole('region', { name: 'Part ZB 100-1' });
  await part.getByText('$12.50').waitFor();
  await part.getByText('only in a price list').waitFor();
  const mended = await call(page, 'parts.find', { text: 'ZB 100-3' });
  expect(mended.parts[0].prices[0].price.amount).toBe(2750);
  await page.context().close();
});

test('a number of a price list becomes a part, fits a machine, and is found so', async () => {
  const page = await openPage({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/counter/parts?part=${encodeURIComponent('ZB 100-1')}`);
  // Asking for a number that is only in a price list is answered with a plain no.
  await page.getByRole('link', { name: 'Take it into the catalog' }).click();
  shop.troubles.length = 0;
  expect(await page.getByLabel('Description').inputValue()).toBe('Kühlerdüse');
  await page.getByLabel('Who changes it').fill('Runa');
  await page.getByLabel('Description').fill('Blade fuse, red');
  await page.getByLabel('Kind').selectOption('fuse');
  await page.getByLabel('Rating, A').fill('ten');
  await page.getByRole('button', { name: 'Add to the catalog' }).click();
  await page.getByText(/attributes\.rating_a: a number of A was expected, “ten” was given/).waitFor();
  shop.troubles.length = 0;
  await page.getByLabel('Rating, A').fill('10');
  await page.getByRole('button', { name: 'Add to the catalog' }).click();
  await page.getByRole('button', { name: 'Add a fitment' }).click();
  await page.getByLabel('Fits', { exact: true }).selectOption('m pellan-125');
  await page.getByLabel('First year').fill('2014');
  await page.getByLabel('Position').fill('lamps');
  await page.getByLabel('Bin').fill('C7');
  await page.getByRole('button', { name: 'Add the fitment' }).dblclick();
  await page.getByRole('button', { name: /^Change: .*2014 to now, lamps/ }).waitFor();
  await page.getByText('added to the catalog').waitFor();
  // What was typed beside it is still there, and is saved on its own.
  expect(await page.getByLabel('Bin').inputValue()).toBe('C7');
  await page.getByRole('button', { name: 'Save the part' }).click();
  await page.getByText('bin none → C7').waitFor();
  // Nothing stands twice after a double click.
  expect(await page.getByRole('button', { name: /^Take away: / }).count()).toBe(1);
  await page.goto(`${shop.origin}/counter/parts?model=pellan-125&kind=fuse`);
  await page.getByRole('article').getByText('Fits by the list').waitFor();
  await page.getByRole('article').getByText('ZB 100-1').waitFor();
  await page.getByText(/listed for this model, lamps .*ask the year/).waitFor();
  // Published example with a right check digit (Wikipedia, Vehicle identification number, check-digit calculation).
  await page.getByLabel('VIN or frame number').fill('1M8GDM9AXKP042788');
  await page.getByText(/the year code K means 1989 or 2019/).waitFor();
  await page.getByRole('button', { name: '2019' }).click();
  await page.getByText(/listed for this model, lamps \(model years from 2014\)/).waitFor();
  await page.context().close();
  expect(shop.troubles).toEqual([]);
});

test('a part is ordered for a job, arrives once, is used once by a double click, and the old one is held', async () => {
  const page = await openPage({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/counter/parts`);
  const partNumber = 'ZB 100-1';
  const { jobId, number } = await call(page, 'jobs.open', { concerns: [{ words: 'lamps are dark' }] });
  const { suppliers } = await call(page, 'parts.suppliers', {});
  const { supplierId } = suppliers.find((one: { name: string }) => one.name === supplier);
  await call(page, 'stock.order', { partNumber, quantity: 2, supplierId, jobId });
  await call(page, 'jobs.update', { jobId, set: { status: 'waiting-for-parts' } });
  await page.goto(`${shop.origin}/counter/parts/stock`);
  await page.getByRole('button', { name: `Arrived: ${partNumber}` }).dblclick();
  await page.getByText(`Job ${number} has all its parts and goes on.`).waitFor();
  await page.goto(`${shop.origin}/bench/${number}/parts`);
  await page.getByLabel(`Pieces of ${partNumber}`).fill('1');
  await page.getByRole('button', { name: `Use: ${partNumber}` }).dblclick();
  await page.getByRole('button', { name: `Put back: ${partNumber}` }).waitFor();
  const { parts } = await call(page, 'stock.list', { jobId });
  expect(parts[0]).toMatchObject({ stock: { onHand: 1, reserved: 1 }, job: { reserved: 1, used: 1 } });
  await page.getByRole('button', { name: `Keep the old one: ${partNumber}` }).click();
  const form = page.getByRole('form', { name: `Keep the old ${partNumber}` });
  await form.getByLabel('Kept for').selectOption('warranty');
  await form.getByLabel('Supplier').selectOption(supplierId);
  await form.getByLabel('What was found').fill('blown after a week');
  await form.getByRole('button', { name: 'Hold the old part' }).click();
  const [sheet] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: `Claim sheet for ${supplier} (1)` }).click(),
  ]);
  expect(
    readFileSync(await sheet.path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-');
  await picture(page, 'job-stock');
  expect(await barriers(page)).toEqual([]);
  await page.context().close();
  expect(shop.troubles).toEqual([]);
});

test.each([
  { colors: 'light' as const, size: desk },
  { colors: 'dark' as const, size: tablet },
])('the pages of the parts are free of barriers and fit the window: $colors', async ({ colors, size }) => {
  const page = await openPage({ size, colors });
  for (const place of [
    '/counter/parts?part=ZB 100-1&model=pellan-125&kind=fuse',
    '/counter/parts/import',
    '/counter/parts/new',
    '/counter/parts/edit?part=ZB 100-1',
    '/counter/parts/stock',
  ]) {
    await page.goto(shop.origin + place);
    await page.locator('#main h1').first().waitFor();
    await page.locator('[role=status]', { hasText: /…$/ }).first().waitFor({ state: 'hidden' });
    if (place.endsWith('import')) {
      await page.getByLabel('Supplier').fill(supplier);
      await page
        .getByLabel('Price list')
        .setInputFiles({ name: 'Preise.csv', mimeType: 'text/csv', buffer: Buffer.from(list, 'latin1') });
      await page.getByRole('button', { name: 'See what would change' }).click();
      await page.getByText('Nothing is written yet').waitFor();
    }
    expect(await barriers(page), place).toEqual([]);
    expect(await overhang(page), place).toBe(0);
    await picture(page, `parts-${/parts\/(\w+)/.exec(place)?.[1] ?? 'find'}-${colors}`);
  }
  await page.context().close();
  expect(shop.troubles).toEqual([]);
});
