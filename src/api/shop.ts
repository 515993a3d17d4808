import { keysFor, partKey, readGtin } from '../parts/index.ts';
import { Problem } from '../problem.ts';
import {
  asProblem,
  backup,
  countRows,
  inspectBackup,
  listBackups,
  listJobs,
  readSetting,
  restore,
  searchCustomers,
  searchVehicles,
} from '../store/index.ts';
import { loadDemoShop } from './demo-shop.ts';
import { canBeRestored, type Desk } from './desk.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { jobRows } from './jobs.ts';
import { findParts } from './parts.ts';
import { viewVehicles } from './people.ts';
import { readShopSettings, writeShopSettings } from './settings.ts';
import { rebuildFromJobs } from './tally-keeping.ts';
import { customerView, modelView } from './views.ts';

export const shop = {
  'shop.status': async (desk) => {
    const { book } = await desk.book();
    const rows = await countRows(desk.db);
    const settings = await readShopSettings(desk.db);
    return {
      dataFolder: desk.options.dataFolder,
      bookVersion: book.version,
      symptoms: book.symptoms.size,
      causes: book.causes.size,
      checks: book.checks.size,
      jobs: rows.jobs,
      closedConcerns: rows.closedConcerns,
      vehicles: rows.vehicles,
      empty: rows.jobs + rows.vehicles + rows.customers === 0,
      demo: (await readSetting(desk.db, 'demo')) !== null,
      currency: settings.currency,
      programVersion: desk.options.programVersion,
    };
  },
  'shop.settings': async (desk, { set }) =>
    set ? writeShopSettings(desk.db, set) : readShopSettings(desk.db),
  'shop.backup': async (desk, { path }) => {
    const made = await backup(desk.office.store, path, desk.now().ms);
    return { file: made.file, bytes: made.bytes, jobs: made.jobs, verified: true as const };
  },
  'shop.backups': async (desk) => ({
    backups: listBackups(desk.options.dataFolder).map((one) => ({
      file: one.file,
      at: toIso(Math.trunc(one.atMs), desk.now().offset),
      bytes: one.bytes,
      kind: one.kind,
    })),
  }),
  'shop.restore': async (desk, { path, preview }) => {
    const facts = await inspectBackup(path);
    const present = await jobsNow(desk);
    const answer = {
      preview,
      jobs: facts.jobs,
      vehicles: facts.vehicles,
      newestJobAt: facts.newestJobMs === null ? null : toIso(facts.newestJobMs, desk.now().offset),
      schemaVersion: facts.schemaVersion,
      bytes: facts.bytes,
      jobsLost: present === null ? null : Math.max(0, present - facts.jobs),
    };
    if (preview) return { ...answer, keptAside: null };
    const { dataFolder } = desk.options;
    const keptAside = await desk.office.whileClosed(() => restore(dataFolder, path, desk.now().ms));
    return { ...answer, keptAside };
  },
  'shop.demo': async (desk, { jobs, seed }) => {
    const rows = await countRows(desk.db);
    if (rows.jobs + rows.vehicles + rows.customers > 0)
      throw new Problem(
        'not-allowed-now',
        `The invented shop goes only into an empty data folder; this one has ${rows.jobs} jobs. Start with another --data folder.`,
      );
    const workId = desk.newId();
    desk.works.start(workId, 'Loading the invented shop', (worker) =>
      loadDemoShop(desk.office, worker, { jobs: jobs ?? 3600, seed: seed ?? 7 }),
    );
    return { workId };
  },
  'shop.rebuildTally': async (desk) => ({ changed: await rebuildFromJobs(desk.db) }),
  'work.get': async (desk, { workId }) => desk.works.get(workId),
  'work.cancel': async (desk, { workId }) => desk.works.cancel(workId),
  'counter.find': async (desk, { text, modelId }) => findAnything(desk, text, modelId),
} satisfies Group<'shop.' | 'work.' | 'counter.'>;

/** null where the present data is too damaged to count. */
async function jobsNow(desk: Desk): Promise<number | null> {
  try {
    return (await countRows(desk.db)).jobs;
  } catch (error) {
    if (canBeRestored(asProblem(error, desk.options.dataFolder))) return null;
    throw error;
  }
}

/** Longer texts are complaints: no number and no name of a part, a person or a machine is. */
const longestName = 60;
/** The field answers at every key: older jobs are found by their number, their plate or their rider, or on the board. */
const newestJobs = 20_000;

async function findAnything(desk: Desk, text: string, modelId: string | undefined) {
  const inUse = await desk.book();
  const { book } = inUse;
  const finder = await inUse.finder();
  const isComplaint = text.trim().length > longestName;
  const parts = isComplaint ? [] : (await findParts(desk, { text, limit: 6 })).parts;
  const keys = new Set(keysFor(text));
  const [first] = parts;
  const isPartNumber =
    first !== undefined &&
    /\d/.test(text) &&
    (keys.has(partKey(first.partNumber)) || isSameGtin(text, first.gtin));
  const wanted = text.trim().toLowerCase();
  return {
    vehicles: isComplaint ? [] : await viewVehicles(desk, await searchVehicles(desk.db, text, 8)),
    customers: isComplaint ? [] : (await searchCustomers(desk.db, text, 8)).map(customerView),
    jobs: isComplaint
      ? []
      : await jobRows(desk, await listJobs(desk.db, { text, limit: 8, textAmongNewest: newestJobs })),
    models: [...book.models.values()]
      .filter((model) => `${model.maker} ${model.name}`.toLowerCase().includes(wanted))
      .slice(0, 8)
      .map((model) => modelView(book, model)),
    parts,
    isPartNumber,
    symptoms: finder.find(text, { limit: 5, ...(modelId === undefined ? {} : { modelId }) }).matches,
  };
}

function isSameGtin(text: string, gtin: string | null): boolean {
  const read = gtin !== null && /^\d[\d\s-]{6,17}$/.test(text) ? readGtin(text) : null;
  return read?.ok === true && read.gtin14 === gtin;
}
