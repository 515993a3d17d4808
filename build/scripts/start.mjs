// npm start: compiles when needed and opens the desktop window. Where the window cannot be opened (no binary, no
// display, a library missing) it says so in one line and opens the same program in the browser.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { ensureBuilt, root } from './ensure-built.mjs';

const given = process.argv.slice(2);
const browserOnly = given.includes('--browser') || given.includes('--no-open') || given.includes('--port');
const launchLimitMs = 15_000;
/** A slow line may need minutes for a hundred megabytes; a machine without a line fails at once. */
const fetchLimitMs = 300_000;

ensureBuilt();

/** Path of the Electron binary; fetches it once where that is possible. Asking the package itself would fetch with noise. */
function electronBinary() {
  let folder;
  try {
    folder = dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return { why: 'the electron package is not installed' };
  }
  const find = () => {
    const note = join(folder, 'path.txt');
    if (!existsSync(note)) return null;
    const path = join(folder, 'dist', readFileSync(note, 'utf8').trim());
    return existsSync(path) ? path : null;
  };
  const present = find();
  if (present) return { path: present };
  const installer = join(folder, 'install.js');
  if (existsSync(installer)) {
    process.stderr.write('Fetching the desktop window, once …\n');
    spawnSync(process.execPath, [installer], {
      stdio: 'ignore',
      timeout: fetchLimitMs,
      killSignal: 'SIGKILL',
    });
  }
  const fetched = find();
  return fetched ? { path: fetched } : { why: 'its program file could not be fetched' };
}

/** Starts the window; resolves to null once it says that it is ready, or to the reason why not. */
function openWindow(path) {
  return new Promise((resolve) => {
    const child = spawn(path, [root, ...given], { stdio: ['ignore', 'inherit', 'pipe', 'ipc'] });
    let errors = '';
    let settled = false;
    const settle = (why) => {
      if (settled) return;
      settled = true;
      clearTimeout(timer);
      if (why !== null) child.kill('SIGKILL');
      resolve(why);
    };
    const timer = setTimeout(() => settle(`it did not open within ${launchLimitMs / 1000} s`), launchLimitMs);
    child.stderr.on('data', (chunk) => {
      errors += chunk;
      if (settled) process.stderr.write(chunk);
    });
    child.on('message', (message) => {
      if (message === 'ready') settle(null);
      if (message?.failed) {
        process.stderr.write(`${message.failed}\n`);
        process.exit(1);
      }
    });
    child.on('error', (error) => settle(error.message));
    child.on('exit', (code) => {
      if (settled) process.exit(code ?? 0);
      const reason = /error while loading shared libraries: ([^\s:]+)/.exec(errors)?.[1];
      if (code === 0) process.exit(0);
      settle(
        reason
          ? `the library ${reason} is missing`
          : /display|ozone|X server/i.test(errors)
            ? 'there is no display'
            : `it ended with code ${code}`,
      );
    });
  });
}

let why = null;
if (!browserOnly) {
  const electron = electronBinary();
  const noDisplay = process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY;
  why = electron.path ? (noDisplay ? 'there is no display' : await openWindow(electron.path)) : electron.why;
  if (why)
    process.stdout.write(
      `The desktop window cannot be opened here (${why}); Bench Tally starts in the browser.\n`,
    );
}
if (browserOnly || why) {
  const child = spawn(process.execPath, [join(root, 'out', 'main', 'browser-door.js'), ...given], {
    stdio: 'inherit',
    env: { ...process.env, BENCH_TALLY_SEED: join(root, 'seed', 'handbook') },
  });
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => child.kill(signal));
  child.on('exit', (code) => process.exit(code ?? 0));
}
