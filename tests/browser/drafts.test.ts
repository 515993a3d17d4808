import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { callOn } from './call-on.ts';
import { openBrowser } from './find-browser.ts';
import { barriers } from './look-over.ts';
import { desk, type OpenShop, openShop } from './open-shop.ts';

// What is typed and not saved, and what happens when two hands are on one job. The words on the screens are the program's
// own; that nothing typed is lost is its own rule, with no outside source. The barriers are axe-core's rules for WCAG 2.2.

let browser: Browser;
let shop: OpenShop;
let page: Page;

/** Sends a procedure as another hand does. */
const call = (name: string, input: object): Promise<Record<string, unknown>> => callOn(page, name, input);

const field = (of = page) => of.locator('#main').getByRole('combobox').first();

/** Which drafts of a sort the browser keeps. */
const drafts = (end: string): Promise<string[]> =>
  page.evaluate((name) => Object.keys(localStorage).filter((key) => key.endsWith(name)), end);

/** A job of one concern at the bench, with its id. */
async function atTheBench(plate: string): Promise<{ jobId: string; concernId: string; path: string }> {
  const job = await call('jobs.open', {
    vehicle: { plate, modelId: 'corvia-heron-150', year: 2020 },
    concerns: [{ words: 'one click', symptomId: 'start-click' }],
  });
  const [concern] = job.concerns as { concernId: string }[];
  const path = `${shop.origin}/bench/${job.number}`;
  await page.goto(path);
  await page.locator('[data-row]').first().waitFor();
  return { jobId: job.jobId as string, concernId: concern?.concernId ?? '', path };
}

beforeAll(async () => {
  browser = await openBrowser();
  shop = await openShop(browser);
  page = await shop.page({ size: desk, colors: 'light' });
  await page.goto(`${shop.origin}/counter`);
  await field().waitFor();
});
afterAll(async () => {
  await shop?.close();
  await browser?.close();
});

test('words in the field of the Counter outlive a reload, and each window has its own', async () => {
  await field().fill('screeches when I pull aw');
  await page.reload();
  await page.getByText('Kept from before').waitFor();
  expect(await field().inputValue()).toBe('screeches when I pull aw');

  const other = await page.context().newPage();
  await other.goto(`${shop.origin}/counter`);
  await field(other).waitFor();
  expect(await field(other).inputValue()).toBe('');
  await field(other).fill('brake feels sp');
  await page.reload();
  expect(await field().inputValue()).toBe('screeches when I pull aw');
  // What a closed window left comes up in the next one.
  await other.close();
  const next = await page.context().newPage();
  await next.goto(`${shop.origin}/counter`);
  await field(next).waitFor();
  expect(await field(next).inputValue()).toBe('brake feels sp');
  await next.close();

  await page.getByRole('button', { name: 'Clear it' }).click();
  expect(await field().inputValue()).toBe('');
});

test('a second complaint that is still typed goes onto the card that is opened', async () => {
  await field().fill('dosnt turn over just one click');
  await page.locator('#counter-symptoms [role=option]').first().waitFor();
  await field().press('Enter');
  await page.getByRole('button', { name: 'Remove' }).waitFor();
  await field().fill('the horn is dead');
  await page.getByRole('button', { name: 'Open the job card' }).click();
  await page.waitForURL(/\/bench\/\d+$/);
  const job = await call('jobs.get', { number: Number(page.url().split('/').pop()) });
  expect((job.concerns as { words: string }[]).map(({ words }) => words)).toEqual([
    'dosnt turn over just one click',
    'the horn is dead',
  ]);
});

test('a plate that is still typed is asked about before the card is opened', async () => {
  await page.goto(`${shop.origin}/counter`);
  await field().fill('dosnt turn over just one click');
  await page.locator('#counter-symptoms [role=option]').first().waitFor();
  await field().press('Enter');
  await page.getByRole('button', { name: 'Remove' }).waitFor();
  await field().fill('KV 1204');
  await page.getByRole('button', { name: 'Open the job card' }).click();
  await page.getByText('“KV 1204” still stands in the field. What is it?').waitFor();
  expect(await barriers(page)).toEqual([]);
  await page.getByRole('button', { name: 'Leave it off and open' }).click();
  await page.waitForURL(/\/bench\/\d+$/);
});

test('the closing form and an advisory are kept until they are saved', async () => {
  await atTheBench('QZ 11');
  await page.getByRole('button', { name: 'Job card' }).click();
  const advisory = page.getByLabel('Found beside the concerns');
  await advisory.fill('rear tire worn to the m');
  await page.goBack();
  await page.goForward();
  await page.getByRole('button', { name: 'Job card' }).click();
  expect(await advisory.inputValue()).toBe('rear tire worn to the m');
  await advisory.press('Enter');
  await page.getByRole('button', { name: 'Declined: rear tire worn to the m' }).waitFor();
  expect(await advisory.inputValue()).toBe('');
  expect(await drafts('/advisory')).toEqual([]);
  await page.keyboard.press('Escape');

  await page.getByRole('button', { name: /Found it/ }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Could not make it happen' }).click();
  await dialog.getByLabel('Note').fill('tried it cold and warm');
  await page.reload();
  await page.getByRole('button', { name: /Found it/ }).click();
  await dialog.getByText('Kept from before').waitFor();
  expect(await dialog.getByLabel('Note').inputValue()).toBe('tried it cold and warm');
  await dialog.getByRole('button', { name: 'Close the concern' }).click();
  await page.getByRole('region', { name: 'What it was' }).waitFor();
  expect(await drafts('/close')).toEqual([]);
});

test('two hands on one job: the other change is named, and nothing typed is lost', async () => {
  const { jobId, concernId } = await atTheBench('QZ 12');
  await page.getByRole('button', { name: 'Job card' }).click();
  const advisory = page.getByLabel('Found beside the concerns');
  await advisory.fill('brake pads at 1 mm');
  // Another hand changes something else: both stand.
  await call('jobs.update', { jobId, set: { keyTag: '14' } });
  await advisory.press('Enter');
  await page.getByText('brake pads at 1 mm').waitFor();
  await expect.poll(() => page.getByLabel('Key tag').inputValue()).toBe('14');
  // Another hand does the same: it is named, and the text stays for a second thought.
  await advisory.fill('rear brake pads worn');
  await call('jobs.advise', { jobId, words: 'pads at the end', urgency: 'now' });
  await advisory.press('Enter');
  await page.getByText('an advisory was added: Now, “pads at the end”').waitFor();
  expect(await advisory.inputValue()).toBe('rear brake pads worn');
  await advisory.fill('');

  const note = page.getByLabel('Note');
  await call('jobs.update', { jobId, set: { note: 'spare key in the drawer' } });
  await note.fill('call before noon');
  await note.blur();
  await page.getByText('The card says “spare key in the drawer”.').waitFor();
  expect(await note.inputValue()).toBe('call before noon');
  await page.getByRole('button', { name: 'Save mine' }).click();
  await expect.poll(async () => (await call('jobs.get', { jobId })).note).toBe('call before noon');
  await page.getByRole('button', { name: 'Done', exact: true }).click();

  // A concern that was closed elsewhere is not closed over.
  await page.getByRole('button', { name: /Found it/ }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Normal for this machine' }).click();
  await call('jobs.close', { jobId, concernId, closing: { kind: 'not-reproduced' } });
  await dialog.getByRole('button', { name: 'Close the concern' }).click();
  await page
    .getByText(/Somebody else changed this card meanwhile: .* was closed/)
    .first()
    .waitFor();
  const [concern] = (await call('jobs.get', { jobId })).concerns as { closing: { kind: string } }[];
  expect(concern?.closing.kind).toBe('not-reproduced');
});
