import { drawBenchWork, makeShop } from '../demo/index.ts';
import { causeShares } from '../diagnosis/index.ts';
import { rebuildClosed, rebuildTally } from '../ledger/index.ts';
import {
  foldAll,
  insertMany,
  rebuildMonths,
  replaceTally,
  type Tables,
  writeSetting,
} from '../store/index.ts';
import type { ModelId } from '../terms.ts';
import { saveBenchWork } from './demo-bench.ts';
import { loadDemoCatalog } from './demo-catalog.ts';
import { DemoLedger } from './demo-ledger.ts';
import type { Office } from './desk.ts';
import { readShopSettings, writeShopSettings } from './settings.ts';
import { closedTableRow, tallyTableRow } from './tally-keeping.ts';
import type { Worker } from './works.ts';

const block = 200;

/** Fills an empty shop with the invented one, in one transaction: all of it is there afterwards, or none. */
export async function loadDemoShop(
  office: Office,
  worker: Worker,
  order: { jobs: number; seed: number },
): Promise<{ jobs: number; vehicles: number }> {
  const now = office.options.clock();
  worker.tell(0.02, 'Drawing the shop');
  await worker.breathe();
  const { book } = await office.shelf.inUse(office.db);
  const shop = makeShop({ book, jobs: order.jobs, seed: order.seed, untilMs: now.ms });
  return office.store.write(async (db) => {
    const { connection } = office.store;
    const newId = office.options.newId;
    const customerIds = shop.customers.map(() => newId());
    const vehicleIds = shop.vehicles.map(() => newId());
    const base = { version: 1, made_ms: now.ms, made_offset: now.offset };
    const { currency, laborRate } = await readShopSettings(db);
    const catalog = loadDemoCatalog(office, book, order.seed, currency);
    const terms = { currency, laborRate };
    const work = drawBenchWork(shop, catalog, { book, seed: order.seed, untilMs: now.ms, ...terms });
    insertMany(connection, 'customers', customerRows());
    insertMany(connection, 'vehicles', vehicleRows());

    function* customerRows(): Iterable<Tables['customers']> {
      for (const [place, { name, phone }] of shop.customers.entries())
        yield {
          ...base,
          id: customerIds[place] as string,
          name,
          phone,
          email: null,
          note: null,
          folded: foldAll([name], [phone]),
        };
    }
    function* vehicleRows(): Iterable<Tables['vehicles']> {
      for (const [place, vehicle] of shop.vehicles.entries()) {
        const model = book.models.get(vehicle.modelId as ModelId);
        yield {
          ...base,
          id: vehicleIds[place] as string,
          customer_id: customerIds[vehicle.customer] as string,
          plate: vehicle.plate,
          frame: null,
          model_id: vehicle.modelId,
          model_words: null,
          year: vehicle.year,
          color: vehicle.color,
          mileage_km: vehicle.mileage_km,
          folded: foldAll([vehicle.plate, model?.maker, model?.name], [vehicle.plate]),
        };
      }
    }

    const ledger = new DemoLedger(shop, vehicleIds, newId, now.offset, book.models, work.partNumber);
    for (let from = 0; from < shop.jobs.length; from += block) {
      const rows = ledger.rows(from, Math.min(from + block, shop.jobs.length));
      insertMany(connection, 'jobs', rows.jobs);
      insertMany(connection, 'concerns', rows.concerns);
      insertMany(connection, 'concern_causes', rows.causes);
      insertMany(connection, 'concern_parts', rows.parts);
      insertMany(connection, 'advisories', rows.advisories);
      insertMany(connection, 'shown', shownRows(from, from + block));
      worker.tell(0.05 + (0.9 * from) / shop.jobs.length, `${Math.min(from + block, shop.jobs.length)} jobs`);
      await worker.breathe();
    }

    /** What the ranking showed when each job came in, from the jobs closed before it. */
    function* shownRows(from: number, until: number): Iterable<Tables['shown']> {
      for (const place of Array.from({ length: until - from }, (_, k) => from + k)) {
        const job = shop.jobs[place];
        const symptom = job && book.symptoms.get(job.symptomId);
        if (!job || !symptom) continue;
        const model = book.models.get((shop.vehicles[job.vehicle]?.modelId ?? '') as ModelId) ?? null;
        const { causes, alphas } = causeShares(book, symptom, model, ledger.tallyBefore(place));
        const total = alphas.reduce((sum: number, alpha: number) => sum + alpha, 0);
        const shares = causes.map(
          (cause, k) => [cause.id, Number(((alphas[k] ?? 0) / total).toFixed(5))] as const,
        );
        yield {
          concern_id: ledger.concernId(place),
          seq: 1,
          moment: 'opened',
          at_ms: job.openedMs,
          book_version: book.version,
          ranking: JSON.stringify({
            causes: shares.toSorted((a, b) => b[1] - a[1]),
            unlisted: Number(((alphas[causes.length] ?? 0) / total).toFixed(5)),
            contradiction: false,
          }),
          plan: null,
        };
      }
    }

    await saveBenchWork({ db, connection }, work, {
      jobIds: shop.jobs.map((_, place) => ledger.jobId(place)),
      concernIds: shop.jobs.map((_, place) => ledger.concernId(place)),
      offset: now.offset,
      newId,
    });

    const concerns = ledger.closed();
    await replaceTally(
      db,
      rebuildTally(concerns).map(tallyTableRow),
      rebuildClosed(concerns).map(closedTableRow),
    );
    await rebuildMonths(db);
    await writeShopSettings(db, {
      shopName: 'Lantern Yard Scooters (invented)',
      address: '4 Lantern Yard, Invented Town',
      technicians: [...new Set(shop.jobs.map((job) => job.technician))],
    });
    await writeSetting(db, 'demo', JSON.stringify({ seed: order.seed, jobs: order.jobs }));
    worker.tell(0.99, 'Saving');
    return { jobs: shop.jobs.length, vehicles: shop.vehicles.length };
  });
}
