import { existsSync } from 'node:fs';
import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright } from 'playwright-core';

/** Where a browser of the Chromium family usually is. */
const usual = [
  '/usr/bin/google-chrome',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/microsoft-edge',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** These would end the browser with its first closed window, or switch off what the doors guard against. */
const unwanted = /single-process|web-security|in-process-gpu|allow-running-insecure/;

/** Opens `CHROME_PATH`, else an installed browser, else the one that comes as a package (Linux x64). */
export async function openBrowser(): Promise<Browser> {
  const installed = process.env.CHROME_PATH ?? usual.find((path) => existsSync(path));
  if (installed) return playwright.launch({ executablePath: installed, args: ['--no-sandbox'] });
  return playwright.launch({
    executablePath: await chromium.executablePath(),
    args: chromium.args.filter((argument) => !unwanted.test(argument)),
  });
}
