import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { databaseFile, findDamage, openStore } from '../../../src/store/index.ts';

const folder = mkdtempSync(join(tmpdir(), 'bench-tally-kill-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Starts the child, lets it acknowledge some jobs, kills it without warning, and returns what it had acknowledged. */
function killWhileWriting(afterJobs: number): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(
      process.execPath,
      ['--no-warnings', join(import.meta.dirname, 'kill-child.ts'), folder],
      {
        stdio: ['ignore', 'pipe', 'pipe'],
      },
    );
    let text = '';
    let errors = '';
    child.stderr.on('data', (chunk: Buffer) => {
      errors += chunk.toString();
    });
    child.stdout.on('data', (chunk: Buffer) => {
      text += chunk.toString();
      if (text.split('\n').length > afterJobs + 1) child.kill('SIGKILL');
    });
    child.on('exit', (code, signal) => {
      if (signal !== 'SIGKILL') reject(new Error(`The child ended by itself (${code}): ${errors}`));
      // The last line may be cut off in the middle: it was not acknowledged whole.
      else resolve(text.split('\n').slice(1, -1));
    });
  });
}

describe('kill -9 during writes', () => {
  it('loses no acknowledged job, leaves a sound database, and the lock of the dead does not stop the next', async () => {
    const acknowledged: string[] = [];
    for (const afterJobs of [3, 7, 12]) acknowledged.push(...(await killWhileWriting(afterJobs)));
    expect(acknowledged.length).toBeGreaterThan(15);
    const store = await openStore(folder, 'call', Date.now());
    const closed = store.connection.raw
      .prepare("select job_id from concerns where state = 'closed'")
      .all() as {
      job_id: string;
    }[];
    const saved = new Set(closed.map((row) => row.job_id));
    expect(acknowledged.filter((id) => !saved.has(id))).toEqual([]);
    expect(findDamage(store.connection.raw)).toEqual([]);
    // Nothing half-written: no card without a concern, no closed concern without an outcome.
    expect(
      store.connection.raw
        .prepare('select count(*) as n from jobs where id not in (select job_id from concerns)')
        .get(),
    ).toEqual({ n: 0 });
    expect(databaseFile(folder)).toContain('shop.db');
    await store.close();
  });
});
