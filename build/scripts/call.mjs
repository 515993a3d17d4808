// npm run --silent call -- <procedure> '<json>': compiles when needed, then hands over to the shell door.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt, root } from './ensure-built.mjs';

ensureBuilt();
const { runCall } = await import(pathToFileURL(join(root, 'out', 'main', 'call.js')).href);
process.exitCode = await runCall(process.argv.slice(2), {
  seedFolder: process.env.BENCH_TALLY_SEED ?? join(root, 'seed', 'handbook'),
});
