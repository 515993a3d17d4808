import type { Book } from '../book/index.ts';
import { type DemoCatalog, makeCatalog } from '../demo/index.ts';
import { insertMany, neverChanged } from '../store/index.ts';
import type { Office } from './desk.ts';
import { foldPart } from './part-views.ts';

/** Puts the invented catalog into the shop, inside the transaction of the one who calls, and hands it back. */
export function loadDemoCatalog(office: Office, book: Book, seed: number, currency: string): DemoCatalog {
  const { connection } = office.store;
  const now = office.options.clock();
  const catalog = makeCatalog(book, seed);
  const numbers = new Map(catalog.parts.map((part) => [part.id, part]));
  insertMany(
    connection,
    'suppliers',
    catalog.suppliers.map((one) => ({ ...one, mapping: null })),
  );
  insertMany(
    connection,
    'parts',
    catalog.parts.map((part) => ({
      id: part.id,
      number: part.number,
      title: part.title,
      kind: part.kind,
      component_id: part.componentId,
      maker: part.maker,
      attributes: JSON.stringify(part.attributes),
      gtin: part.gtin,
      folded: foldPart(part),
      ...neverChanged,
    })),
  );
  insertMany(
    connection,
    'fitments',
    catalog.fitments.map((one) => ({
      id: office.options.newId(),
      part_id: one.partId,
      model_id: one.modelId,
      family_id: one.familyId,
      year_from: one.yearFrom,
      year_to: one.yearTo,
      frame_from: one.frameFrom,
      frame_to: one.frameTo,
      position: one.position,
      note: one.note,
      basis: one.basis,
    })),
  );
  insertMany(
    connection,
    'supersessions',
    catalog.supersessions.map((one) => ({
      old_id: one.oldId,
      new_id: one.newId,
      quantity: one.quantity,
      note: one.note,
    })),
  );
  insertMany(
    connection,
    'interchange',
    [...catalog.groups].map(([part_id, group_id]) => ({ part_id, group_id })),
  );
  insertMany(
    connection,
    'stock',
    catalog.stock.map((one) => ({
      part_id: one.partId,
      on_hand: one.onHand,
      reserved: 0,
      on_order: 0,
      bin: one.bin,
      minimum: one.minimum,
    })),
  );
  insertMany(
    connection,
    'price_imports',
    catalog.suppliers.map((one, place) => ({
      generation: place + 1,
      supplier_id: one.id,
      state: 'visible' as const,
      file: 'invented prices',
      at_ms: now.ms,
      at_offset: now.offset,
      counts: null,
    })),
  );
  const generations = new Map(catalog.suppliers.map((one, place) => [one.id, place + 1]));
  insertMany(
    connection,
    'price_rows',
    catalog.prices.map((one) => ({
      part_id: one.partId,
      supplier_id: one.supplierId,
      generation: generations.get(one.supplierId) as number,
      number: numbers.get(one.partId)?.number ?? one.partId,
      title: numbers.get(one.partId)?.title ?? '',
      price: one.price,
      currency,
      cost: one.cost,
      core: one.core,
      gtin: numbers.get(one.partId)?.gtin ?? null,
    })),
  );
  return catalog;
}
