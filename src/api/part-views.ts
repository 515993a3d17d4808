import type { Book } from '../book/index.ts';
import type { Attributes, Fitment, Part, Supersession } from '../parts/index.ts';
import { resolveReplacement } from '../parts/index.ts';
import { amount, toMinorUnits } from '../quote/index.ts';
import {
  allSupersessions,
  type FitmentRow,
  foldAll,
  type PartRow,
  partsByIds,
  type StockRow,
  type SupersessionRow,
  stockOf,
  visiblePrices,
} from '../store/index.ts';
import type { FamilyId, ModelId } from '../terms.ts';
import type { PartPrice, PartStock, PartView } from './contract.ts';
import type { Desk } from './desk.ts';
import { toIso } from './instants.ts';

/** Rows of the catalog as the parts room takes them, and as people see them. */

export const partOf = (row: PartRow): Part => ({
  id: row.id,
  number: row.number,
  title: row.title,
  kind: row.kind,
  componentId: row.component_id,
  maker: row.maker,
  attributes: JSON.parse(row.attributes) as Attributes,
  gtin: row.gtin,
});

export const fitmentOf = (row: FitmentRow): Fitment => ({
  partId: row.part_id,
  modelId: row.model_id,
  familyId: row.family_id,
  yearFrom: row.year_from,
  yearTo: row.year_to,
  frameFrom: row.frame_from,
  frameTo: row.frame_to,
  position: row.position,
  note: row.note,
  basis: row.basis,
});

export const supersessionOf = (row: SupersessionRow): Supersession => ({
  oldId: row.old_id,
  newId: row.new_id,
  quantity: row.quantity,
  note: row.note,
});

export const stockView = (row: StockRow | undefined): PartStock | null =>
  row
    ? {
        onHand: row.on_hand,
        reserved: row.reserved,
        free: row.on_hand - row.reserved,
        onOrder: row.on_order,
        bin: row.bin,
        minimum: row.minimum,
      }
    : null;

type PricedRow = Awaited<ReturnType<typeof visiblePrices>>[number];

export const priceView = (row: PricedRow): PartPrice => {
  const asMoney = (text: string) => ({
    amount: toMinorUnits(amount(text, 'price'), row.currency),
    currency: row.currency,
  });
  return {
    supplierId: row.supplier_id,
    supplier: row.supplier,
    price: asMoney(row.price),
    core: row.core === null ? null : asMoney(row.core),
    since: toIso(row.at_ms, row.at_offset),
  };
};

/** What the shop knows about parts at this moment: present prices (cheapest first), all prices, stock. */
export interface ShopSide {
  prices(partId: string): PartPrice[];
  history(partId: string): PartPrice[];
  stock(partId: string): PartStock | null;
  /** The cheapest present price as a decimal string. */
  priceText(partId: string): { text: string; currency: string; core: string | null } | null;
}

export async function shopSide(desk: Desk, partIds: readonly string[]): Promise<ShopSide> {
  const priced = Map.groupBy(await visiblePrices(desk.db, partIds), (row) => row.part_id);
  const stock = new Map((await stockOf(desk.db, partIds)).map((row) => [row.part_id, row]));
  // Newest first: the first of each supplier is the one that holds.
  const present = (partId: string): PricedRow[] => {
    const found = new Map<string, PricedRow>();
    for (const row of priced.get(partId) ?? [])
      if (!found.has(row.supplier_id)) found.set(row.supplier_id, row);
    return [...found.values()].sort((a, b) => amount(a.price, 'price').cmp(amount(b.price, 'price')));
  };
  return {
    prices: (partId) => present(partId).map(priceView),
    priceText: (partId) => {
      const [row] = present(partId);
      return row ? { text: row.price, currency: row.currency, core: row.core } : null;
    },
    history: (partId) => (priced.get(partId) ?? []).map(priceView),
    stock: (partId) => stockView(stock.get(partId)),
  };
}

/** A model or engine family as people call it. */
export function machineTitle(book: Book, modelId: string | null, familyId: string | null): string {
  const model = modelId === null ? undefined : book.models.get(modelId as ModelId);
  if (model) return `${model.maker} ${model.name}`;
  return book.families.get((familyId ?? '') as FamilyId)?.title ?? modelId ?? familyId ?? '';
}

/** The search column of a part: its words, and its number bare. */
export const foldPart = (part: Pick<Part, 'id' | 'title' | 'maker' | 'kind' | 'attributes'>): string =>
  foldAll(
    [
      part.title,
      part.maker,
      part.kind.replaceAll('-', ' '),
      ...Object.values(part.attributes).filter((value): value is string => typeof value === 'string'),
    ],
    [part.id],
  );

/** Keys of numbers as the numbers are printed. */
export async function printedNumbers(desk: Desk, ids: readonly string[]): Promise<(id: string) => string> {
  const rows = new Map((await partsByIds(desk.db, ids)).map((row) => [row.id, row.number]));
  return (id) => rows.get(id) ?? id;
}

/** Parts as they are shown in a list, in the order given. */
export async function viewParts(desk: Desk, rows: readonly PartRow[]): Promise<PartView[]> {
  const side = await shopSide(
    desk,
    rows.map((row) => row.id),
  );
  const links = rows.length === 0 ? [] : (await allSupersessions(desk.db)).map(supersessionOf);
  const replaced = new Map(rows.map((row) => [row.id, resolveReplacement(row.id, links)]));
  const printed = await printedNumbers(
    desk,
    [...replaced.values()].flatMap((all) => all.flatMap((one) => one.chain)),
  );
  return rows.map((row) => ({
    partNumber: row.number,
    title: row.title,
    kind: row.kind,
    componentId: row.component_id,
    maker: row.maker,
    attributes: partOf(row).attributes as Record<string, string | number>,
    gtin: row.gtin,
    prices: side.prices(row.id),
    stock: side.stock(row.id),
    retired: row.retired_ms !== null,
    replacedBy: (replaced.get(row.id) ?? []).map((one) => ({
      partNumber: printed(one.partId),
      quantity: one.quantity,
      chain: one.chain.map(printed),
    })),
  }));
}
