import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { callOn } from './call-on.ts';
import { openBrowser } from './find-browser.ts';
import { barriers, overhang, picture } from './look-over.ts';
import { desk, type OpenShop, openShop, tablet } from './open-shop.ts';
import { pdfText } from './pdf-text.ts';

// The counter hand's way: complaint, likely causes, a part that fits, a quote to hold, an approval on record. The words on
// the screens are the program's own; the barriers are axe-core's rules for WCAG 2.2 A and AA.

let browser: Browser;
let shop: OpenShop;

beforeAll(async () => {
  browser = await openBrowser();
  shop = await openShop(browser);
  const page = await shop.page({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/handbook`);
  const { workId } = await callOn(page, 'shop.demo', { jobs: 100, seed: 7 });
  for (;;) {
    const { state } = await callOn(page, 'work.get', { workId });
    if (state === 'done') break;
    if (state !== 'running') throw new Error(`the invented shop did not load: ${state}`);
    await page.waitForTimeout(100);
  }
  await callOn(page, 'quotes.terms', {
    set: { taxRates: [{ id: 'sales', title: 'Sales tax', percent: '7.5' }], usualTaxRateId: 'sales' },
  });
  const { customerId } = await callOn(page, 'customers.save', { name: 'Petra Invented' });
  await callOn(page, 'vehicles.save', {
    plate: 'QZ 7781',
    modelId: 'corvia-heron-150',
    year: 2020,
    customerId,
  });
  // One quote of each sort, so that every test stands on its own.
  const { jobId } = await callOn(page, 'jobs.open', {
    vehicle: { plate: 'QZ 1', modelId: 'corvia-heron-150', year: 2020 },
    concerns: [{ words: 'one click', symptomId: 'start-click' }],
  });
  await callOn(page, 'quotes.draft', { jobId, causeIds: ['starter-relay-coil-open'] });
  await callOn(page, 'quotes.draft', { lines: [{ kind: 'fee', words: 'Storage', unitPrice: '12.50' }] });
  await page.context().close();
});
afterAll(async () => {
  await shop?.close();
  await browser?.close();
});

/** Plate and complaint typed at the Counter, each taken with Enter. */
async function takeIn(page: Page): Promise<void> {
  await page.goto(`${shop.origin}/counter`);
  await page.locator('#main').getByRole('combobox').first().waitFor();
  await page.keyboard.type('QZ 7781');
  await page.locator('#counter-people [role=option]', { hasText: 'QZ 7781' }).first().waitFor();
  await page.keyboard.press('Enter');
  await page.getByText('Earlier visits').waitFor();
  await page.locator('#main').getByRole('combobox').first().focus();
  await page.keyboard.type('dosnt turn over just one click');
  await page.locator('#counter-symptoms [role=option]').first().waitFor();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Remove' }).first().waitFor();
}

test('from the complaint to a quote in hand and an approval on record', async () => {
  const page = await shop.page({ size: desk, colors: 'light' });
  await takeIn(page);
  const causes = page.getByRole('region', { name: 'Likely causes' });
  // Before diagnosis: an estimate in a customer's words, and never a quote.
  await causes.getByText('Estimate before diagnosis, not a quote').waitFor();
  await causes.getByText('In words, to say or to send').click();
  await causes.getByText(/Finding out for certain costs .* This is an estimate, not a quote/).waitFor();
  await causes.locator('a', { hasText: 'what fits' }).first().waitFor();
  await picture(page, 'counter-path-counter');
  await page.keyboard.press('Control+Enter');
  await page.waitForURL(/\/bench\/\d+$/);
  const number = new URL(page.url()).pathname.split('/').at(-1) ?? '';

  // The part that fits, with one key.
  await page.getByRole('link', { name: 'Parts for this job' }).first().click();
  const add = page.getByRole('button', { name: /^Add to quote: / }).first();
  await add.waitFor();
  const partNumber = (await add.getAttribute('data-add-to-quote')) ?? '';
  await picture(page, 'counter-path-parts');
  await add.focus();
  await page.keyboard.press('+');
  await page.getByText(/is on the new quote \d+\./).waitFor();
  await page.getByRole('button', { name: 'Open the quote' }).click();

  // Labor by the minute, and a safety repair that the customer may decline.
  await page.getByRole('list', { name: 'Lines of the quote' }).waitFor();
  const form = page.getByRole('form', { name: 'Add a line' });
  await form.getByLabel('Add', { exact: true }).selectOption('labor');
  await form.getByLabel('Words').fill('Renew the starter relay');
  await form.getByLabel('Minutes').fill('25');
  await page.keyboard.press('Enter');
  await form.getByLabel('Add', { exact: true }).selectOption('part');
  await form.getByLabel('Number, barcode or words').fill('Front brake pads');
  await form.getByLabel(/^Price/).fill('19,00');
  await page.keyboard.press('Enter');
  await page.getByLabel('Line 3: safety repair').check();
  await page.getByText('Kept as it is typed.').waitFor();
  await picture(page, 'counter-path-draft');
  await page.getByRole('button', { name: 'Issue the quote' }).click();
  await page.getByText('Stop and ask.').waitFor();
  await page.getByText('has not approved anything yet').waitFor();

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as PDF', exact: true }).click(),
  ]);
  const bytes = readFileSync(await download.path());
  expect(bytes.subarray(0, 5).toString('latin1')).toBe('%PDF-');
  const printed = pdfText(bytes);
  for (const words of [
    'Quote 1',
    'Customer: Petra Invented',
    'Renew the starter relay',
    '25 min',
    partNumber,
    '19.00',
    'Sales tax 7.5 %',
    'unsafe to ride',
  ])
    expect(printed).toContain(words);

  const answer = page.getByRole('region', { name: 'What the customer says' });
  await answer.getByText('Leave lines undone').click();
  await answer.getByLabel('Without: Front brake pads').check();
  await answer.getByText(/To be read out.*unsafe to ride.*Front brake pads/).waitFor();
  await picture(page, 'counter-path-issued');
  await answer.getByRole('button', { name: 'Accepted without these lines' }).click();
  await page.getByText(/accepted by Petra Invented, by phone: .*, without 1 of its lines/).waitFor();
  await picture(page, 'counter-path-accepted');
  const job = (await callOn(page, 'jobs.get', { number: Number(number) })) as {
    status: string;
    approvals: { who: string; how: string }[];
    advisories: { words: string; state: string; doNotRide: boolean }[];
  };
  expect(job.status).toBe('in-work');
  expect(job.approvals.at(-1)).toMatchObject({ who: 'Petra Invented', how: 'phone' });
  expect(job.advisories).toMatchObject([{ state: 'declined', doNotRide: true }]);
  await page.context().close();
});

test('a part is found in the one field by its number, and added to a quote without a job', async () => {
  const page = await shop.page({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/counter`);
  const found = (await callOn(page, 'parts.find', { text: 'brake pad', limit: 20 })) as {
    parts: { partNumber: string; prices: unknown[] }[];
  };
  const part = found.parts.find(({ prices }) => prices.length > 0)?.partNumber ?? '';
  const field = page.locator('#main').getByRole('combobox').first();
  await field.fill(part.toLowerCase().replaceAll(/[ -]/g, ''));
  await page.locator('#counter-people [role=option]', { hasText: part }).waitFor();
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/counter\/parts\?part=/);
  await page.getByRole('region', { name: `Part ${part}` }).waitFor();
  await page.getByLabel('Part number, words, or a scanned barcode').focus();
  await page.keyboard.press('+');
  await page.getByText(/is on the new quote \d+\./).waitFor();
  await page.keyboard.press('+');
  await page.getByText(/now 2 of it\./).waitFor();
  await picture(page, 'counter-path-part');
  await page.getByRole('link', { name: /^Quote \d+$/ }).click();

  // Lines are moved and changed from the keyboard; two options show their totals side by side.
  await page.getByLabel('Line 1: Quantity').waitFor();
  expect(await page.getByLabel('Line 1: Quantity').inputValue()).toBe('2');
  await page.getByRole('button', { name: 'Offer two options' }).click();
  await page.getByLabel('Line 1: in which option').selectOption('good');
  const form = page.getByRole('form', { name: 'Add a line' });
  await form.getByLabel('Number, barcode or words').fill('Fitting');
  await form.getByLabel(/^Price/).fill('10');
  await page.keyboard.press('Enter');
  await page.getByLabel('Line 2: Words').waitFor();
  await page.getByLabel('Line 2: Words').focus();
  await page.keyboard.press('Alt+ArrowUp');
  await expect.poll(() => page.getByLabel('Line 1: Words').inputValue()).toBe('Fitting');
  await page.getByLabel('Line 1: Each').fill('abc');
  await page.getByText('“abc” is no price').waitFor();
  await page.getByText('Not kept yet').waitFor();
  await page.getByLabel('Line 1: Each').fill('20');
  // 20.00 and 7.5 % tax: only the option without the pads.
  await page.getByRole('row', { name: /The customer pays .*\$21\.50/ }).waitFor();
  await picture(page, 'counter-path-options');

  // Somebody else changes the quote meanwhile: it is loaded again, and nothing of theirs is lost.
  const quoteId = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  const { version } = await callOn(page, 'quotes.get', { quoteId });
  await callOn(page, 'quotes.draft', { quoteId, ifVersion: version, note: 'from another seat' });
  await page.getByLabel('Heading').fill('Mine');
  await page.getByText('Somebody else changed this quote meanwhile.').waitFor();
  await expect.poll(() => page.getByLabel('Note to the customer').inputValue()).toBe('from another seat');
  // The refusal is no trouble of the page.
  shop.troubles.length = 0;
  await page.context().close();
});

test.each([
  { colors: 'light' as const, size: desk, name: 'desk' },
  { colors: 'dark' as const, size: tablet, name: 'tablet' },
])(
  'every place on the way is free of barriers and fits the window: $colors',
  async ({ colors, size, name }) => {
    const page = await shop.page({ size, colors });
    await page.goto(`${shop.origin}/counter/quotes`);
    const { quotes } = (await callOn(page, 'quotes.list', {})) as {
      quotes: { quoteId: string; jobNumber: number | null }[];
    };
    const free = quotes.find(({ jobNumber }) => jobNumber === null)?.quoteId;
    const job = quotes.find(({ jobNumber }) => jobNumber !== null)?.jobNumber;
    for (const place of [
      '/counter/quotes',
      `/counter/quotes/${free}`,
      `/bench/${job}`,
      `/bench/${job}/quote`,
      `/bench/${job}/parts`,
      '/office/settings',
    ]) {
      await page.goto(shop.origin + place);
      await page.locator('#main h1').first().waitFor();
      await page.waitForLoadState('networkidle');
      expect(await barriers(page), place).toEqual([]);
      expect(await overhang(page), place).toBe(0);
      await picture(page, `counter-path-${place.split('/').slice(1, 4).join('-').slice(0, 24)}-${name}`);
    }
    await takeIn(page);
    await page
      .getByRole('button', { name: /^Quote this repair/ })
      .first()
      .waitFor();
    await page.waitForLoadState('networkidle');
    expect(await barriers(page), 'counter').toEqual([]);
    expect(await overhang(page), 'counter').toBe(0);
    await picture(page, `counter-path-counter-${name}`);
    await page.context().close();
  },
);

test('no page broke the security policy or threw', () => {
  expect(shop.troubles).toEqual([]);
});
