import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** The compiled program in its browser door and its shell door. */

export const root = join(import.meta.dirname, '../..');
/** The compiled program; a build of one's own is named as the build names it. */
const compiled = join(root, process.env.BENCH_TALLY_OUT ?? 'out');

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
    [join(compiled, 'main/browser-door.js'), '--data', folder, '--no-open', ...options],
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
