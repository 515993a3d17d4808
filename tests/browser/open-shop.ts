import type { Browser, Page } from 'playwright-core';
import { startProgram } from './running-program.ts';

export const desk = { width: 1280, height: 720 };
export const tablet = { width: 820, height: 1180 };

/** A program on a data folder, else an empty one of its own, behind the browser door. */
export interface OpenShop {
  readonly origin: string;
  /** A signed-in page; what goes wrong in it is collected in `troubles`. */
  page(look: { size: { width: number; height: number }; colors: 'light' | 'dark' }): Promise<Page>;
  readonly troubles: string[];
  close(): Promise<void>;
}

/** Starts the compiled program and signs the browser in with the one-use code. */
export async function openShop(browser: Browser, folder?: string): Promise<OpenShop> {
  const { address, origin, stop } = await startProgram(folder);
  const troubles: string[] = [];

  const first = await browser.newContext();
  const opening = await first.newPage();
  await opening.goto(address);
  await opening.getByRole('link', { name: 'Counter' }).waitFor();
  const storageState = await first.storageState();
  await first.close();

  return {
    origin,
    troubles,
    async page({ size, colors }) {
      const context = await browser.newContext({ viewport: size, colorScheme: colors, storageState });
      const page = await context.newPage();
      // A busy machine is no failure.
      page.setDefaultTimeout(90_000);
      page.on('pageerror', (error) => troubles.push(`error: ${error.message}`));
      page.on('console', (message) => {
        const isTrouble = message.type() === 'error' || message.type() === 'warning';
        // A failed request is named with its address below.
        if (isTrouble && !message.text().startsWith('Failed to load resource')) troubles.push(message.text());
      });
      page.on('response', (response) => {
        if (response.status() >= 400) troubles.push(`${response.status()} ${response.url()}`);
      });
      return page;
    },
    close: stop,
  };
}
