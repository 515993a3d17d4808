// Compiles the program when out/ is missing or older than a source file. Plain JavaScript, so that it runs before
// anything is compiled. Messages go to standard error: standard output belongs to the program.
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url));

function newest(path) {
  const facts = statSync(path);
  if (!facts.isDirectory()) return facts.mtimeMs;
  let latest = facts.mtimeMs;
  for (const name of readdirSync(path)) latest = Math.max(latest, newest(join(path, name)));
  return latest;
}

const sources = [
  'src',
  'migrations',
  'package.json',
  'package-lock.json',
  'electron.vite.config.ts',
  'tsconfig.json',
];
const mark = join(root, 'out', 'main', 'call.js');
const page = join(root, 'out', 'renderer', 'index.html');

export function ensureBuilt() {
  const built =
    existsSync(mark) && existsSync(page) ? Math.min(statSync(mark).mtimeMs, statSync(page).mtimeMs) : 0;
  const stale = sources.some((name) => existsSync(join(root, name)) && newest(join(root, name)) > built);
  if (!stale) return;
  process.stderr.write('Compiling Bench Tally, once …\n');
  // Compiled beside the present one and swapped at the end: a second start at the same moment never meets half a program.
  const fresh = `out.${process.pid}.new`;
  const former = join(root, `out.${process.pid}.old`);
  const vite = join(root, 'node_modules', 'electron-vite', 'bin', 'electron-vite.js');
  const done = spawnSync(process.execPath, [vite, 'build'], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, BENCH_TALLY_OUT: fresh },
  });
  if (done.status !== 0) {
    rmSync(join(root, fresh), { recursive: true, force: true });
    process.stderr.write(`${done.stdout}${done.stderr}\nCompiling failed.\n`);
    process.exit(1);
  }
  const out = join(root, 'out');
  const learned = join(out, 'learned');
  if (existsSync(learned)) cpSync(learned, join(root, fresh, 'learned'), { recursive: true });
  // Without it the program learns at its first search: slower, no reason not to start.
  spawnSync(process.execPath, [join(root, 'build', 'scripts', 'learn-words.ts')], {
    cwd: root,
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, BENCH_TALLY_OUT: fresh },
  });
  if (existsSync(out)) renameSync(out, former);
  renameSync(join(root, fresh), out);
  rmSync(former, { recursive: true, force: true });
}
