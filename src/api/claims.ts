import { claimPdf } from '../paper/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  findHeld,
  findSupplier,
  findVehicle,
  fontFolder,
  type HeldPartRow,
  partsByIds,
  readFonts,
} from '../store/index.ts';
import type { ModelId } from '../terms.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { cardOr404 } from './job-card.ts';
import { readQuoteTerms } from './quote-terms.ts';
import { readShopSettings } from './settings.ts';

export const claims = {
  'stock.claim': async (desk, input) => claimSheet(desk, input),
} satisfies Pick<Group<'stock.'>, 'stock.claim'>;

/** What the shop asks the supplier for. */
export const claimAsks = (why: HeldPartRow['why']): string =>
  why === 'core' ? 'We return this old part and ask for its deposit.' : 'We claim warranty for this part.';

async function heldRows(desk: Desk, ids: readonly string[]): Promise<HeldPartRow[]> {
  const rows: HeldPartRow[] = [];
  for (const [place, id] of ids.entries()) {
    const row = await findHeld(desk.db, id);
    const where = { field: `heldIds[${place}]`, id };
    if (!row) throw new Problem('not-found', `heldIds[${place}]: no old part ${quoted(id)} is held.`, where);
    if (row.supplier_id === null)
      throw new Problem(
        'bad-input',
        `heldIds[${place}]: this old part has no supplier; say first where it came from.`,
        where,
      );
    if (rows[0] && rows[0].supplier_id !== row.supplier_id)
      throw new Problem(
        'bad-input',
        `heldIds[${place}]: one sheet goes to one supplier; this old part came from another.`,
        where,
      );
    rows.push(row);
  }
  return rows;
}

/** @throws Problem not-found, bad-input naming the old part that does not go with the others */
async function claimSheet(desk: Desk, input: ParsedInputOf<'stock.claim'>): Promise<OutputOf<'stock.claim'>> {
  const { book } = await desk.book();
  const rows = await heldRows(desk, input.heldIds);
  const shop = await readShopSettings(desk.db);
  const { paper } = await readQuoteTerms(desk.db);
  const supplierId = rows[0]?.supplier_id as string;
  const supplier = (await findSupplier(desk.db, supplierId))?.name ?? supplierId;
  const now = desk.now();
  const lines = [];
  for (const row of rows) {
    const [part] = await partsByIds(desk.db, [row.part_id]);
    const { job } = await cardOr404(desk, { id: row.job_id });
    const vehicle = job.vehicle_id === null ? undefined : await findVehicle(desk.db, job.vehicle_id);
    const model = vehicle?.model_id ? book.models.get(vehicle.model_id as ModelId) : undefined;
    const machine = [model ? `${model.maker} ${model.name}` : vehicle?.model_words, vehicle?.frame]
      .filter(Boolean)
      .join(', frame ');
    lines.push({
      partNumber: part?.number ?? row.part_id,
      title: part?.title ?? '',
      asks: claimAsks(row.why),
      jobNumber: job.number,
      machine: machine || null,
      takenOff: toIso(row.made_ms, row.made_offset).slice(0, 10),
      mileage: job.mileage_km === null ? null : `${job.mileage_km} km`,
      found: row.words,
    });
  }
  const written = toIso(now.ms, now.offset).slice(0, 10);
  const bytes = await claimPdf(
    {
      shopName: shop.shopName,
      address: shop.address,
      phone: shop.phone,
      supplier,
      written,
      lines,
      madeAt: new Date(now.ms),
    },
    readFonts(fontFolder(desk.options.seedFolder)),
    input.paper ?? paper,
  );
  return {
    fileName: `old-parts-${supplierId}-${written}.pdf`,
    base64: Buffer.from(bytes).toString('base64'),
    bytes: bytes.length,
  };
}
