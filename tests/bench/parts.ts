import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { v7 as uuidv7 } from 'uuid';
import { openHandler } from '../../src/api/index.ts';

/** Rows of the list; fewer for a quick look: BENCH_ROWS=100000 npm run bench -- parts */
const rows = Number(process.env.BENCH_ROWS ?? 1_000_000);

const line = (k: number): string =>
  `BT-${String(k).padStart(7, '0')};Part ${k % 977} for bench;${(k % 9000) / 100 + 1}`;

/** Import of a list against raw prepared inserts of the same rows, and finding numbers as they are typed. */
export async function run() {
  const folder = mkdtempSync(join(tmpdir(), 'bench-tally-bench-'));
  try {
    const path = join(folder, 'list.csv');
    const text = ['number;title;price', ...Array.from({ length: rows }, (_, k) => line(k))].join('\n');
    writeFileSync(path, text);

    const raw = new Database(join(folder, 'raw.db'));
    raw.pragma('journal_mode = WAL');
    raw.exec(
      'create table t (id text not null, title text not null, price text not null, primary key (id)) strict',
    );
    const insert = raw.prepare('insert into t values (?, ?, ?)');
    const rawStart = performance.now();
    for (let from = 0; from < rows; from += 1000)
      raw.transaction(() => {
        for (let k = from; k < Math.min(rows, from + 1000); k += 1)
          insert.run(
            `BT${String(k).padStart(7, '0')}`,
            `Part ${k % 977} for bench`,
            String((k % 9000) / 100 + 1),
          );
      })();
    const rawSeconds = (performance.now() - rawStart) / 1000;
    raw.close();

    const handler = await openHandler({
      dataFolder: join(folder, 'shop'),
      door: 'call',
      seedFolder: join(import.meta.dirname, '../../seed/handbook'),
      programVersion: 'bench',
      clock: () => ({ ms: Date.now(), offset: 0 }),
      newId: uuidv7,
    });
    const start = performance.now();
    const memory = process.memoryUsage().rss;
    let peak = memory;
    const { workId } = (await handler.call('parts.importPrices', {
      supplier: 'Bench',
      path,
      dryRun: false,
    })) as {
      workId: string;
    };
    let work: { state: string; result?: unknown };
    const waits: number[] = [];
    do {
      await new Promise((resolve) => setTimeout(resolve, 50));
      const asked = performance.now();
      await handler.call('jobs.open', { concerns: [{ words: 'saved beside the import' }] });
      waits.push(performance.now() - asked);
      peak = Math.max(peak, process.memoryUsage().rss);
      work = (await handler.call('work.get', { workId })) as typeof work;
    } while (work.state === 'running');
    const seconds = (performance.now() - start) / 1000;

    const finds: number[] = [];
    for (let k = 0; k < 300; k += 1) {
      const typed = `bt-${String((k * 7919) % rows).padStart(7, '0')}`.slice(0, 5 + (k % 6));
      const asked = performance.now();
      await handler.call('parts.find', { text: typed, limit: 20 });
      finds.push(performance.now() - asked);
    }
    await handler.close();
    const at = (list: number[], share: number): number =>
      Number((list.sort((a, b) => a - b)[Math.floor(list.length * share)] ?? 0).toFixed(1));
    return {
      rows,
      bytes: statSync(path).size,
      state: work.state,
      import_rows_per_s: Math.round(rows / seconds),
      raw_rows_per_s: Math.round(rows / rawSeconds),
      ratio_to_raw: Number((rawSeconds / seconds).toFixed(3)),
      memory_growth_mb: Math.round((peak - memory) / 1_048_576),
      job_saved_beside_ms: { p50: at(waits, 0.5), p95: at(waits, 0.95), most: at(waits, 0.999) },
      find_number_ms: { p50: at(finds, 0.5), p95: at(finds, 0.95) },
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
