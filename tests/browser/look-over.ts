import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const folder = new URL('./screenshots/', import.meta.url).pathname;

/** Keeps a picture of the page for a person to look at. */
export async function picture(page: Page, name: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: `${folder}${name}.png` });
}

/**
 * What axe finds against WCAG 2.2 A and AA on the page, one line each; none is right.
 * Outside source: axe-core's own rules.
 */
export async function barriers(page: Page): Promise<string[]> {
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const { axe: tool } = globalThis as unknown as {
      axe: {
        run: (
          what: unknown,
        ) => Promise<{ violations: { id: string; help: string; nodes: { html: string }[] }[] }>;
      };
    };
    const found = await tool.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    });
    return found.violations.map(({ id, help, nodes }) => `${id}: ${help} (${nodes[0]?.html ?? ''})`);
  });
}

/** Nothing of the page lies outside the window to the side. */
export const overhang = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
