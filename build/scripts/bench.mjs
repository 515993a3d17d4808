// npm run bench [-- name …]: measures, and prints JSON with ratios against a baseline in the same run. Without a name all
// benchmarks run, one after the other.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { root } from './ensure-built.mjs';

const folder = join(root, 'tests', 'bench');
const known = readdirSync(folder)
  .filter((name) => name.endsWith('.ts'))
  .map((name) => name.slice(0, -3));
const wanted = process.argv.slice(2).filter((name) => !name.startsWith('-'));
const unknown = wanted.filter((name) => !known.includes(name));
if (unknown.length > 0) {
  process.stderr.write(`There is no benchmark ${unknown.join(', ')}; there are: ${known.join(', ')}.\n`);
  process.exit(2);
}
for (const name of wanted.length > 0 ? wanted : known) {
  const { run } = await import(pathToFileURL(join(folder, `${name}.ts`)).href);
  if (typeof run !== 'function') continue;
  process.stdout.write(`${JSON.stringify({ bench: name, ...(await run()) }, null, 2)}\n`);
}
