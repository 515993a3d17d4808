import { truncateSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser } from './find-browser.ts';
import { barriers, overhang, picture } from './look-over.ts';
import { desk, type OpenShop, openShop, tablet } from './open-shop.ts';
import { newFolder, runCall } from './running-program.ts';

let browser: Browser;
let shop: OpenShop;
beforeAll(async () => {
  const folder = newFolder();
  const open = { vehicle: { plate: 'SD 1', modelWords: 'x' }, concerns: [{ words: 'no start' }] };
  for (const [name, input] of [
    ['jobs.open', open],
    ['shop.backup', {}],
  ] as const)
    expect((await runCall([name, JSON.stringify(input), '--data', folder])).code).toBe(0);
  truncateSync(join(folder, 'shop.db'), 100_000);
  browser = await openBrowser();
  shop = await openShop(browser, folder);
});
afterAll(async () => {
  await shop?.close();
  await browser?.close();
});

test('data that cannot be opened: the window says why, and a backup takes its place', async () => {
  for (const look of [
    { size: desk, colors: 'light' as const },
    { size: tablet, colors: 'dark' as const },
  ]) {
    const page = await shop.page(look);
    await page.goto(`${shop.origin}/bench`);
    await page.getByRole('heading', { name: 'The shop data cannot be opened' }).waitFor();
    await page.getByRole('button', { name: 'Look at it' }).waitFor();
    expect(await barriers(page)).toEqual([]);
    expect(await overhang(page)).toBeLessThanOrEqual(0);
    await picture(page, `shut-data-${look.colors}`);
    await page.context().close();
  }
  const page = await shop.page({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/bench`);
  await page.getByRole('button', { name: 'Look at it' }).click();
  await page.getByText('1 job, 1 vehicle').waitFor();
  await page.getByRole('button', { name: 'Put this backup in place' }).click();
  await page.getByText('The backup is in place.').waitFor();
  await page.getByText('SD 1').first().waitFor();
  // Reports are read by another connection, which must see the restored data too.
  await page.goto(`${shop.origin}/office/jobs`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  // Every refusal before was the damaged file's.
  expect(shop.troubles.filter((text) => !text.startsWith('503 '))).toEqual([]);
  await page.context().close();
});
