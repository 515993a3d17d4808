import type { Browser } from 'playwright-core';
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

test('an entry is edited: a slip is refused by line and field, the right text is saved, and taken back', async () => {
  const page = await shop.page({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/handbook/cause/starter-relay-coil-open`);
  await page.getByRole('button', { name: 'Edit this entry' }).click();
  const text = page.getByLabel('The entry, as it is written in the file');
  const before = await text.inputValue();
  const right = before.replace(/minutes: \d+/, 'minutes: 31');
  await page.getByLabel('Who changes it').fill('Runa');
  await text.fill(right.replace('fault_mode:', 'falt_mode:'));
  await page.getByRole('button', { name: 'Save to the handbook' }).click();
  await page.getByText(/line \d+, falt_mode/).waitFor();
  await picture(page, 'handbook-refused');
  // The refusal is no trouble of the page.
  shop.troubles.length = 0;

  await text.fill(right);
  await page.getByRole('button', { name: 'Save to the handbook' }).click();
  await page.getByText('The handbook is changed.').waitFor();
  await page.goto(`${shop.origin}/handbook/upkeep`);
  await page.getByText('Starter relay coil open').waitFor();
  await page.goto(`${shop.origin}/handbook/history`);
  await page.getByRole('button', { name: 'Take it back' }).click();
  await page
    .getByText(/is taken back/)
    .first()
    .waitFor();
  await page.goto(`${shop.origin}/handbook/upkeep`);
  await page.getByText('Nothing: the handbook is as it was shipped.').waitFor();
  await page.context().close();
});

test.each([
  { colors: 'light' as const, size: desk },
  { colors: 'dark' as const, size: tablet },
])('the pages of the upkeep are free of barriers and fit the window: $colors', async ({ colors, size }) => {
  const page = await shop.page({ size, colors });
  for (const place of [
    '/handbook/history',
    '/handbook/upkeep',
    '/handbook/check',
    '/handbook/new/cause',
    '/handbook/new/check',
  ]) {
    await page.goto(shop.origin + place);
    await page.locator('#main h1').first().waitFor();
    await page.waitForLoadState('networkidle');
    expect(await barriers(page), place).toEqual([]);
    expect(await overhang(page), place).toBe(0);
    await picture(page, `${place.replaceAll('/', '-').slice(1)}-${colors}`);
  }
  await page.context().close();
  expect(shop.troubles).toEqual([]);
});
