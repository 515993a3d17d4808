import { spawn } from 'node:child_process';
import type { AddressInfo } from 'node:net';
import { serve } from '@hono/node-server';
import { ownerOf } from '../api/index.ts';
import { Problem } from '../problem.ts';
import { createGuard } from './browser-guard.ts';
import { pageFor } from './pages.ts';
import { pagesFolder, startOptions } from './program.ts';
import { startWorkers } from './workers.ts';

/** The browser door: the same handler behind a loopback server, for a machine where the window cannot be opened. */

function openBrowser(address: string): void {
  const [command, ...args] =
    process.platform === 'win32'
      ? ['cmd', '/c', 'start', '""', address]
      : process.platform === 'darwin'
        ? ['open', address]
        : ['xdg-open', address];
  const child = spawn(command as string, args as string[], { stdio: 'ignore', detached: true });
  child.on('error', () => {
    // No browser to open: the address stands on the screen.
  });
  child.unref();
}

async function main(args: readonly string[]): Promise<void> {
  const options = startOptions(args);
  const owner = ownerOf(options.dataFolder);
  if (owner) {
    const where = owner.address ?? 'in its own window';
    process.stdout.write(`Bench Tally is open already: ${where}\n`);
    if (owner.address && options.open) openBrowser(owner.address);
    return;
  }
  const workers = await startWorkers(options.dataFolder, 'browser');

  let guard: ReturnType<typeof createGuard> | null = null;
  const server = serve({
    hostname: '127.0.0.1',
    port: options.port,
    fetch: async (request: Request): Promise<Response> => {
      if (!guard) return new Response('Not ready', { status: 503 });
      const refused = guard.check(request);
      if (refused) return refused;
      const { pathname } = new URL(request.url);
      return pathname.startsWith('/api/') ? workers.handle(request) : pageFor(pagesFolder, pathname);
    },
  });
  await new Promise<void>((resolve, reject) => {
    server.once('listening', resolve);
    server.once('error', reject);
  }).catch((error: unknown) => {
    throw new Problem('bad-input', `Port ${options.port} cannot be used: ${String(error)}`, {
      field: '--port',
    });
  });
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  guard = createGuard(origin, () => Date.now());
  // A second start opens the address in the note; each one-use code there is followed by the next.
  const withCode = (code: string): string => `${origin}/?code=${code}`;
  workers.tellAddress(withCode(guard.standingCode((code) => workers.tellAddress(withCode(code)))));
  const address = withCode(guard.newCode());
  process.stdout.write(
    `Bench Tally is running. Open: ${address}\nShop data: ${options.dataFolder}\nStop it with Ctrl+C.\n`,
  );
  if (options.demo) await loadDemo(origin, workers.handle);
  if (options.open) openBrowser(address);

  let stopping = false;
  const stop = async (): Promise<void> => {
    if (stopping) return;
    stopping = true;
    server.close();
    if ('closeAllConnections' in server) server.closeAllConnections();
    await workers.close();
    process.exit(0);
  };
  process.on('SIGINT', () => void stop());
  process.on('SIGTERM', () => void stop());
}

/** Fills an empty data folder with the invented shop, and says so. */
async function loadDemo(origin: string, handle: (request: Request) => Promise<Response>): Promise<void> {
  const response = await handle(
    new Request(`${origin}/api/shop.demo`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{}',
    }),
  );
  const body = (await response.json()) as { message?: string };
  process.stdout.write(
    response.ok
      ? 'The invented shop is being loaded.\n'
      : `The invented shop was not loaded: ${body.message ?? ''}\n`,
  );
}

main(process.argv.slice(2)).catch((error: unknown) => {
  const problem =
    error instanceof Problem ? error : new Problem('unexpected', undefined, undefined, { cause: error });
  if (problem.code === 'unexpected') console.error(error);
  process.stderr.write(`${problem.message}\n${problem.report().next}\n`);
  process.exit(problem.code === 'bad-input' ? 2 : 1);
});
