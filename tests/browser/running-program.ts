import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sparticuz from '@sparticuz/chromium';
import { type Browser, chromium } from 'playwright-core';

/** The compiled program in its browser door, and a browser to drive it. */

export const root = join(import.meta.dirname, '../..');

export interface RunningProgram {
  readonly folder: string;
  /** With a one-use code. */
  readonly address: string;
  readonly origin: string;
  stop(): Promise<void>;
}

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'bench-tally-door-'));

export function startProgram(folder = newFolder(), options: readonly string[] = []): Promise<RunningProgram> {
  const child: ChildProcess = spawn(
    process.execPath,
    [join(root, 'out/main/browser-door.js'), '--data', folder, '--no-open', ...options],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  );
  return new Promise((resolve, reject) => {
    let text = '';
    child.stdout?.on('data', (chunk: Buffer) => {
      text += chunk.toString();
      const address = /Open: (http:\S+)/.exec(text)?.[1];
      if (!address) return;
      resolve({
        folder,
        address,
        origin: new URL(address).origin,
        stop: () =>
          new Promise((done) => {
            const clean = (): void => {
              rmSync(folder, { recursive: true, force: true });
              done();
            };
            if (child.exitCode !== null) return clean();
            child.on('exit', clean);
            child.kill('SIGTERM');
          }),
      });
    });
    child.stderr?.on('data', (chunk: Buffer) => {
      text += chunk.toString();
    });
    child.on('exit', (code) => reject(new Error(`The program ended (${code}): ${text}`)));
  });
}

/** Runs the shell door and collects what it says. */
export function runCall(
  args: readonly string[],
  input = '',
): Promise<{ code: number | null; out: string; errors: string }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(root, 'build/scripts/call.mjs'), ...args], { stdio: 'pipe' });
    let out = '';
    let errors = '';
    child.stdout.on('data', (chunk: Buffer) => {
      out += chunk.toString();
    });
    child.stderr.on('data', (chunk: Buffer) => {
      errors += chunk.toString();
    });
    child.on('exit', (code) => resolve({ code, out, errors }));
    child.stdin.end(input);
  });
}

const installed = [
  process.env.CHROME_PATH,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/microsoft-edge',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** `CHROME_PATH`, an installed browser, else the one that comes as a package (Linux x64). */
export async function launchBrowser(): Promise<Browser> {
  const found = installed.find((path) => path !== undefined && path !== '' && existsSync(path));
  return chromium.launch({
    executablePath: found ?? (await sparticuz.executablePath()),
    args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--font-render-hinting=none'],
    headless: true,
  });
}
