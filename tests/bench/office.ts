import { copyFileSync, existsSync, mkdirSync, mkdtempSync, rmSync, statfsSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { v7 as uuidv7 } from 'uuid';
import { openHandler } from '../../src/api/index.ts';

/**
 * Every report of the Office over ledgers of growing size: `npm run bench -- office`, with a million jobs beside them
 * `npm run bench -- office --million`, or sizes of your own: BENCH_JOBS=50000,200000 npm run bench -- office. With
 * BENCH_KEEP=folder the ledgers stay there and are not made again.
 */
const sizes = process.env.BENCH_JOBS
  ? process.env.BENCH_JOBS.split(',').map(Number)
  : process.argv.includes('--million')
    ? [10_000, 100_000, 1_000_000]
    : [10_000, 100_000];

/** Jobs that are drawn; larger ledgers are copies of them with other ids, spread over ten days each. */
const drawn = 5000;
const seed = 7;
const bytesPerJob = 5000;
const untilMs = Date.parse('2026-03-02T10:00:00Z');
const runs = 5;

const reports = [
  ['overview', 'patterns.overview', {}],
  ['recurring', 'patterns.recurring', { by: 'cause' }],
  ['recurring by mileage', 'patterns.recurring', { by: 'mileage' }],
  ['trend', 'patterns.trend', {}],
  ['trend of one component', 'patterns.trend', { componentId: 'starter-relay' }],
  ['comebacks', 'patterns.comebacks', {}],
  ['comebacks of one part', 'patterns.comebacks', { partKind: 'drive-belt', supplier: 'Pinwheel Supply' }],
  ['stock', 'patterns.stock', {}],
  ['accuracy', 'patterns.accuracy', {}],
] as const;

const open = (dataFolder: string, mode: 'write' | 'report') =>
  openHandler(
    {
      dataFolder,
      door: 'call',
      seedFolder: join(import.meta.dirname, '../../seed/handbook'),
      programVersion: 'bench',
      clock: () => ({ ms: untilMs, offset: 60 }),
      newId: uuidv7,
    },
    mode,
  );

async function drawShop(folder: string): Promise<void> {
  const handler = await open(folder, 'write');
  const { workId } = (await handler.call('shop.demo', { jobs: drawn, seed })) as { workId: string };
  for (;;) {
    const work = (await handler.call('work.get', { workId })) as { state: string; problem?: unknown };
    if (work.state === 'done') break;
    if (work.state !== 'running') throw new Error(JSON.stringify(work.problem));
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  await handler.close();
}

/** Columns of a table with the ids and instants of a copy, in the order of the table. */
function copied(raw: Database.Database, table: string, changed: Readonly<Record<string, string>>): string {
  const columns = (raw.pragma(`table_info(${table})`) as { name: string }[]).map(({ name }) => name);
  const values = columns.map((name) => changed[name] ?? `t."${name}"`);
  return `insert into ${table} (${columns.map((name) => `"${name}"`).join(', ')})
    select ${values.join(', ')} from drawn.${table} as t cross join copy`;
}

/** Copies of every job, vehicle and ranking, in one transaction, near their originals in time as a ledger grows. */
function multiply(folder: string, from: string, copies: number): void {
  const raw = new Database(join(folder, 'shop.db'));
  raw.pragma('foreign_keys = OFF');
  raw.pragma('journal_mode = OFF');
  raw.pragma('synchronous = OFF');
  raw.pragma('cache_size = -256000');
  raw.prepare('attach ? as drawn').run(from);
  const id = (column: string): string => `t.${column} || '-' || k`;
  const earlier = (column: string): string => `t.${column} - (k * 7919 % 240) * 3600000`;
  const ids = { id: id('id'), concern_id: id('concern_id'), job_id: id('job_id') };
  // Half of the copies are of another model each, so that a large ledger has as many different months as a real one.
  const models = raw
    .prepare('select distinct model_id, family_id from drawn.concerns where model_id is not null order by 1')
    .all() as { model_id: string; family_id: string }[];
  const turned = (column: 'model_id' | 'family_id'): string => `(select turn.${column} from turn
    where turn.step = k % 2 * (k % ${models.length}) and turn.was = t.model_id)`;
  raw.exec(`begin; create temp table copy (k integer primary key);
    create temp table turn (step integer, was text, model_id text, family_id text, primary key (step, was))`);
  const turn = raw.prepare('insert into turn values (?, ?, ?, ?)');
  for (const [place, { model_id }] of models.entries())
    for (let step = 0; step < models.length; step += 1) {
      const to = models[(place + step) % models.length];
      turn.run(step, model_id, to?.model_id, to?.family_id);
    }
  const insert = raw.prepare('insert into copy values (?)');
  for (let k = 1; k < copies; k += 1) insert.run(k);
  for (const [table, changed] of [
    ['vehicles', { id: ids.id, model_id: turned('model_id') }],
    [
      'jobs',
      {
        id: ids.id,
        number: `t.number + ${drawn * 2} * k`,
        vehicle_id: id('vehicle_id'),
        opened_ms: earlier('opened_ms'),
        closed_ms: earlier('closed_ms'),
      },
    ],
    [
      'concerns',
      {
        id: ids.id,
        job_id: ids.job_id,
        comeback_of: id('comeback_of'),
        closed_ms: earlier('closed_ms'),
        model_id: turned('model_id'),
        family_id: turned('family_id'),
      },
    ],
    ['concern_causes', { concern_id: ids.concern_id }],
    ['concern_parts', { concern_id: ids.concern_id }],
    ['shown', { concern_id: ids.concern_id, at_ms: earlier('at_ms') }],
  ] as const)
    raw.exec(copied(raw, table, changed));
  raw.exec('commit');
  raw.close();
}

/** What a report over the bare tables would cost: every closing joined with its causes, counted by month. */
const plainScan = `select strftime('%Y-%m', (closed_ms + closed_offset * 60000) / 1000, 'unixepoch') as month,
  cause_id, count(*) from concerns join concern_causes on concern_causes.concern_id = concerns.id
  where state = 'closed' and outcome = 'proven' group by 1, 2`;

const middle = (times: number[]): number => times.sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? 0;
const round = (value: number, digits = 1): number => Number(value.toFixed(digits));

async function timed(step: () => unknown): Promise<number> {
  const start = performance.now();
  await step();
  return performance.now() - start;
}

async function measure(folder: string, jobs: number) {
  const writer = await open(folder, 'write');
  const rebuilt = await timed(() => writer.call('shop.rebuildTally', {}));
  await writer.close();
  const raw = new Database(join(folder, 'shop.db'), { readonly: true });
  const scan = raw.prepare(plainScan);
  const scans: number[] = [];
  for (let run = 0; run < 3; run += 1) scans.push(await timed(() => scan.all()));
  const baseline = middle(scans);
  raw.close();
  const reader = await open(folder, 'report');
  // Loads the book, which is no part of a report.
  await reader.call('patterns.recurring', { by: 'cause', days: 1 });
  const memory = process.memoryUsage().rss;
  let peak = memory;
  const measured: Record<string, unknown> = {};
  for (const [name, procedure, input] of reports) {
    const first = await timed(() => reader.call(procedure, input));
    const times: number[] = [];
    const before = process.cpuUsage();
    for (let run = 0; run < runs && (run < 1 || first < 5000); run += 1)
      times.push(await timed(() => reader.call(procedure, input)));
    const { user, system } = process.cpuUsage(before);
    peak = Math.max(peak, process.memoryUsage().rss);
    const ms = middle(times);
    measured[name] = {
      ms: round(ms),
      first_ms: round(first),
      // On a machine that others use too, this says more than the clock.
      processor_ms: round((user + system) / 1000 / times.length),
      ratio_to_scan: round(ms / baseline, 3),
    };
  }
  await reader.close();
  return {
    jobs,
    bytes: statSync(join(folder, 'shop.db')).size,
    plain_scan_ms: round(baseline),
    rebuild_ms: round(rebuilt),
    memory_growth_mb: Math.round((peak - memory) / 1_048_576),
    reports: measured,
  };
}

/** Each report against a plain scan of the same ledger in the same run; goal: the overview under 300 ms at a million. */
export async function run() {
  const { bavail, bsize } = statfsSync(tmpdir());
  const needed = 2 * bytesPerJob * Math.max(...sizes);
  if (bavail * bsize < needed)
    return {
      skipped: `needs ${Math.ceil(needed / 1e9)} GB below ${tmpdir()}, ${Math.floor((bavail * bsize) / 1e9)} GB are free`,
    };
  const kept = process.env.BENCH_KEEP;
  const folder = kept ?? mkdtempSync(join(tmpdir(), 'bench-tally-bench-'));
  try {
    const original = join(folder, 'drawn');
    if (!existsSync(original)) await drawShop(original);
    const ledgers = [];
    for (const jobs of sizes) {
      const shop = join(folder, String(jobs));
      if (!existsSync(shop)) {
        mkdirSync(shop);
        copyFileSync(join(original, 'shop.db'), join(shop, 'shop.db'));
        multiply(shop, join(original, 'shop.db'), Math.round(jobs / drawn));
      }
      ledgers.push(await measure(shop, jobs));
      if (kept === undefined) rmSync(shop, { recursive: true, force: true });
    }
    return { seed, drawn, ledgers };
  } finally {
    if (kept === undefined) rmSync(folder, { recursive: true, force: true });
  }
}
