/**
 * Learns the words of the shipped handbook once, when the program is compiled, and keeps the numbers in out/learned, so that
 * no first start waits for it. They are named by the words they were learned from: a changed handbook never meets stale ones.
 */
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import { openHandler } from '../../src/api/index.ts';

const root = join(import.meta.dirname, '../..');

/** @returns true where something was learned, false where the folder held it already */
export async function learnWords(
  into = join(root, process.env.BENCH_TALLY_OUT ?? 'out', 'learned'),
): Promise<boolean> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'bench-tally-learn-'));
  try {
    const handler = await openHandler({
      dataFolder,
      door: 'call',
      seedFolder: join(root, 'seed', 'handbook'),
      learnedFolder: into,
      programVersion: 'learn',
      clock: () => ({ ms: Date.now(), offset: 0 }),
      newId: uuidv7,
    });
    await handler.call('symptoms.find', { text: 'does not start' });
    await handler.close();
    const cache = join(dataFolder, 'cache');
    const fresh = existsSync(cache) ? readdirSync(cache).filter((name) => name.endsWith('.f32')) : [];
    if (fresh.length === 0) return false;
    mkdirSync(into, { recursive: true });
    for (const name of fresh) {
      // Copied beside and renamed: whoever reads meanwhile meets a whole file or none.
      copyFileSync(join(cache, name), join(into, `${name}.${process.pid}`));
      renameSync(join(into, `${name}.${process.pid}`), join(into, name));
    }
    for (const name of readdirSync(into))
      if (name.endsWith('.f32') && !fresh.includes(name)) rmSync(join(into, name), { force: true });
    return true;
  } finally {
    rmSync(dataFolder, { recursive: true, force: true });
  }
}

if (import.meta.main) await learnWords();
