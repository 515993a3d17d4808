import { execFileSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { v7 as uuidv7 } from 'uuid';
import { type Handler, openHandler } from '../../src/api/index.ts';

/**
 * Import of a list against raw prepared inserts of the same rows and against the sqlite3 shell's import, and finding parts as
 * they are typed against FTS5 alone. `npm run bench -- parts --rows=1000000 --shuffled`; 200,000 rows unless told.
 */
const flag = (name: string): string | undefined =>
  process.argv.find((one) => one === `--${name}` || one.startsWith(`--${name}=`))?.split('=')[1] ??
  (process.argv.includes(`--${name}`) ? 'yes' : undefined);
const rows = Number(flag('rows') ?? process.env.BENCH_ROWS ?? 200_000);
const isShuffled = flag('shuffled') !== undefined;

const nouns =
  'pad lever cable filter belt roller clutch spring bearing seal gasket piston ring valve lamp fuse relay starter battery switch coil plug hose clamp grip mirror stand shock fork disc caliper pump injector sensor'.split(
    ' ',
  );
const kinds = 'brake drive throttle oil air fuel ignition wheel crank cam head tail horn seat'.split(' ');
const sides = 'front rear left right upper lower inner outer'.split(' ');

interface Row {
  readonly key: string;
  readonly number: string;
  readonly title: string;
  readonly price: string;
}
/** Rows follow from their place alone, so that none has to be kept. */
function rowAt(place: number): Row {
  // 7919 is prime, so every row comes once whatever the number of rows that it does not divide.
  const k = isShuffled ? (place * 7919) % rows : place;
  const digits = String(k).padStart(7, '0');
  const of = (list: readonly string[], by: number): string =>
    list[Math.floor(k / by) % list.length] as string;
  return {
    key: `BT${digits}`,
    number: `BT-${digits}`,
    title: `${of(kinds, 1)} ${of(nouns, 14)} ${of(sides, 500)} M${k % 977}`,
    price: ((k % 9000) / 100 + 1).toFixed(2),
  };
}

const fresh = (folder: string, name: string, sync: string): Database.Database => {
  const db = new Database(join(folder, name));
  db.pragma('journal_mode = WAL');
  db.pragma(`synchronous = ${sync}`);
  db.pragma('cache_size = -32000');
  return db;
};

interface Taken {
  readonly rows_per_s: number;
  /** Rows for a second of the processor: says more than the clock where others work on the same machine. */
  readonly rows_per_cpu_s: number;
}
async function taken(step: () => Promise<void> | void): Promise<Taken> {
  const start = performance.now();
  const cpu = process.cpuUsage();
  await step();
  const used = process.cpuUsage(cpu);
  return {
    rows_per_s: Math.round(rows / ((performance.now() - start) / 1000)),
    rows_per_cpu_s: Math.round(rows / ((used.user + used.system) / 1e6)),
  };
}

/** Prepared inserts, 1000 to a transaction, of the values as they are kept. */
function rawInserts(folder: string, name: string, ddl: string, sql: string, values: (row: Row) => unknown[]) {
  const db = fresh(folder, name, 'NORMAL');
  db.exec(ddl);
  const insert = db.prepare(sql);
  return taken(() => {
    for (let from = 0; from < rows; from += 1000)
      db.transaction(() => {
        for (let k = from; k < Math.min(rows, from + 1000); k += 1) insert.run(...values(rowAt(k)));
      })();
    db.close();
  });
}

function shellImport(folder: string, path: string): number | string {
  try {
    execFileSync('sqlite3', ['--version']);
  } catch {
    return 'skipped: there is no sqlite3 shell on this machine';
  }
  const start = performance.now();
  execFileSync('sqlite3', [
    join(folder, 'shell.db'),
    'pragma journal_mode = wal',
    'create table t (number text, title text, price text)',
    '.mode csv',
    '.separator ;',
    `.import --skip 1 ${path} t`,
  ]);
  return Math.round(rows / ((performance.now() - start) / 1000));
}

const at = (list: readonly number[], share: number): number =>
  Number(([...list].sort((a, b) => a - b)[Math.floor((list.length - 1) * share)] ?? 0).toFixed(2));
const spread = (list: readonly number[]) => ({ p50: at(list, 0.5), p95: at(list, 0.95), most: at(list, 1) });

interface Work {
  readonly state: string;
  readonly result?: { readonly counts: unknown };
  readonly problem?: unknown;
}

/** Imports a file; on demand jobs are saved beside it, which costs the same processor. */
async function importFile(handler: Handler, path: string, supplier: string, withJobs: boolean) {
  const before = process.memoryUsage().rss;
  const memory: number[] = [];
  const waits: number[] = [];
  let ended: Work = { state: 'running' };
  const speed = await taken(async () => {
    const { workId } = (await handler.call('parts.importPrices', {
      supplier,
      path,
      dryRun: false,
    })) as {
      workId: string;
    };
    do {
      await new Promise((resolve) => setTimeout(resolve, 250));
      const asked = performance.now();
      if (withJobs) {
        await handler.call('jobs.open', { concerns: [{ words: 'saved beside the import' }] });
        waits.push(performance.now() - asked);
      }
      memory.push(process.memoryUsage().rss);
      ended = (await handler.call('work.get', { workId })) as Work;
    } while (ended.state === 'running');
  });
  const mb = (bytes: number): number => Math.round(bytes / 1_048_576);
  return {
    counts: ended.result?.counts ?? ended.problem,
    ...speed,
    memory_mb: {
      before: mb(before),
      most_in_the_first_fifth: mb(Math.max(...memory.slice(0, Math.ceil(memory.length / 5)))),
      most: mb(Math.max(...memory)),
    },
    ...(withJobs ? { job_saved_beside_ms: spread(waits) } : {}),
  };
}

/** What is typed, sign by sign. */
function typedTexts(): { numbers: string[]; words: string[] } {
  const numbers: string[] = [];
  const words: string[] = [];
  for (let k = 0; k < 60; k += 1) {
    const row = rowAt((k * 104_729) % rows);
    const number = k % 2 === 0 ? row.number.toLowerCase() : row.key;
    for (let length = 2; length <= number.length; length += 1) numbers.push(number.slice(0, length));
    for (let length = 2; length <= row.title.length; length += 1)
      words.push(row.title.slice(0, length).trim());
  }
  return { numbers, words };
}

export async function run() {
  const folder = mkdtempSync(join(tmpdir(), 'bench-tally-bench-'));
  try {
    const path = join(folder, 'list.csv');
    const file = openSync(path, 'w');
    writeSync(file, 'number;title;price\n');
    for (let from = 0; from < rows; from += 5000) {
      const some = Array.from({ length: Math.min(5000, rows - from) }, (_, k) => rowAt(from + k));
      writeSync(file, some.map((row) => `${row.number};${row.title};${row.price}\n`).join(''));
    }
    closeSync(file);

    const raw = await rawInserts(
      folder,
      'raw.db',
      'create table t (number text not null, title text not null, price text not null, primary key (number)) strict',
      'insert into t values (?, ?, ?)',
      (row) => [row.key, row.title, row.price],
    );
    const rawSame = await rawInserts(
      folder,
      'raw-same.db',
      `create table t (seq integer primary key, part_id text not null, supplier_id text not null, generation integer not null,
        number text not null, title text not null, price text not null, currency text not null, cost text, core text, gtin text,
        unique (part_id, supplier_id, generation)) strict`,
      'insert into t values (null, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)',
      (row) => [row.key, 'bench', 1, row.number, row.title, row.price, 'USD', null, null, null],
    );
    const shell = shellImport(folder, path);

    const handler = await openHandler({
      dataFolder: join(folder, 'shop'),
      door: 'call',
      seedFolder: join(import.meta.dirname, '../../seed/handbook'),
      programVersion: 'bench',
      clock: () => ({ ms: Date.now(), offset: 0 }),
      newId: uuidv7,
    });
    await handler.call('parts.find', { text: 'warm up' });
    const imported = await importFile(handler, path, 'Bench', false);
    const again = await importFile(handler, path, 'Bench', false);
    const beside = await importFile(handler, path, 'Second', true);

    const words = fresh(folder, 'fts.db', 'OFF');
    words.exec(
      `create virtual table f using fts5 (number, title, prefix = '2 3', tokenize = "unicode61 remove_diacritics 2")`,
    );
    const add = words.prepare('insert into f values (?, ?)');
    words.transaction(() => {
      for (let k = 0; k < rows; k += 1) add.run(rowAt(k).key, rowAt(k).title);
    })();
    const ask = words.prepare('select number, title from f where f match ? limit 20');

    const typed = typedTexts();
    const timed = async (texts: readonly string[], step: (text: string) => unknown) => {
      const times: number[] = [];
      const cpu: number[] = [];
      for (const text of texts) {
        const used = process.cpuUsage();
        const start = performance.now();
        await step(text);
        times.push(performance.now() - start);
        const { user, system } = process.cpuUsage(used);
        cpu.push((user + system) / 1000);
      }
      return { ...spread(times), cpu_p50: at(cpu, 0.5), cpu_p95: at(cpu, 0.95) };
    };
    const find = (text: string) => handler.call('parts.find', { text, limit: 20 });
    const match = (text: string): string =>
      `${text
        .toUpperCase()
        .match(/[A-Z0-9]+/g)
        ?.map((word) => `"${word}"`)
        .join(' ')}*`;
    const alone = (text: string) => ask.all(match(text));
    const found = {
      number_ms: await timed(typed.numbers, find),
      number_fts5_alone_ms: await timed(typed.numbers, (text) => alone(text.replace('-', ''))),
      words_ms: await timed(typed.words, find),
      words_fts5_alone_ms: await timed(typed.words, alone),
    };
    words.close();
    await handler.close();
    const ratio = (a: number, b: number): number => Number((a / b).toFixed(3));
    return {
      rows,
      order: isShuffled ? 'shuffled' : 'by number',
      bytes: statSync(path).size,
      raw_three_columns_and_key: raw,
      raw_same_columns_and_key: rawSame,
      sqlite3_shell_rows_per_s: shell,
      import: imported,
      ratio_to_raw_three_columns: {
        clock: ratio(imported.rows_per_s, raw.rows_per_s),
        cpu: ratio(imported.rows_per_cpu_s, raw.rows_per_cpu_s),
      },
      ratio_to_raw_same_columns: {
        clock: ratio(imported.rows_per_s, rawSame.rows_per_s),
        cpu: ratio(imported.rows_per_cpu_s, rawSame.rows_per_cpu_s),
      },
      ratio_to_shell: typeof shell === 'number' ? ratio(imported.rows_per_s, shell) : shell,
      import_again_unchanged: again,
      import_of_second_supplier_with_jobs_beside: beside,
      find: found,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
