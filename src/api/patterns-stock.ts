import type { Book } from '../book/index.ts';
import { median, type ShelfAdvice, type ShelfOrder, shelfAdvice } from '../ledger/index.ts';
import { amount, toMinorUnits } from '../quote/index.ts';
import { leadTimes, ledgerSpan, partDemand, shelfByKind } from '../store/index.ts';
import type { OutputOf, ParsedInputOf, ShelfRow } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import type { Instant } from './instants.ts';
import { remarkOn, titlesOf } from './pattern-views.ts';
import { readShopSettings } from './settings.ts';

const stretches = 12;
const msOfDay = 86_400_000;
const assumedLeadDays = 7;
/** With fewer noted arrivals the middle of them says little. */
const fewestArrivals = 5;

export interface Shelf {
  readonly rows: readonly ShelfRow[];
  readonly terms: ShelfOrder;
  readonly leadFrom: 'asked' | 'orders' | 'assumed';
  readonly withoutKind: number;
  /** Nothing was ever counted on the shelf. */
  readonly isUncounted: boolean;
}

function sayOf(advice: ShelfAdvice): string {
  const use = advice.used.reduce((sum, count) => sum + count, 0);
  if (advice.neverMoves) return `None used in a year; ${advice.onHand} on the shelf.`;
  const free = `${advice.available} free or on the way`;
  if (advice.order > 0) return `${use} used in a year, ${free}: order ${advice.order}.`;
  return `${use} used in a year, ${free}; order when ${advice.reorderAt} or fewer are left.`;
}

/** Use of the last year against what lies on the shelf, by kind of part. */
export async function shelfOf(
  db: Desk['db'],
  book: Book,
  now: Instant,
  asked: Partial<ShelfOrder>,
): Promise<Shelf> {
  const { currency } = await readShopSettings(db);
  const titles = titlesOf(book);
  const arrivals = await leadTimes(db, now.ms - 2 * 365 * msOfDay);
  const noted = arrivals.length >= fewestArrivals ? median(arrivals) : null;
  const leadFrom = asked.leadDays !== undefined ? 'asked' : noted === null ? 'assumed' : 'orders';
  const terms: ShelfOrder = {
    service: asked.service ?? 0.95,
    leadDays: asked.leadDays ?? Math.max(1, Math.round(noted ?? assumedLeadDays)),
    coverDays: asked.coverDays ?? 30,
  };
  const demand = await partDemand(db, now.ms, stretches);
  const shelf = new Map((await shelfByKind(db)).map((row) => [row.kind, row]));
  const byKind = Map.groupBy(
    demand.filter((row) => row.kind !== null),
    (row) => row.kind ?? '',
  );
  const advice = shelfAdvice(
    [...new Set([...byKind.keys(), ...shelf.keys()])].map((kind) => ({
      kind,
      used: Array.from(
        { length: stretches },
        (_, place) => byKind.get(kind)?.find((row) => row.stretch === place)?.quantity ?? 0,
      ),
      onHand: shelf.get(kind)?.onHand ?? 0,
      reserved: shelf.get(kind)?.reserved ?? 0,
      onOrder: shelf.get(kind)?.onOrder ?? 0,
    })),
    terms,
  );
  const rows = advice.map((row): ShelfRow => {
    const price = book.partKinds.get(row.kind)?.typicalPrice;
    return {
      kind: row.kind,
      title: titles.partKind(row.kind),
      usedInYear: row.used.reduce((sum, count) => sum + count, 0),
      perMonth: row.demand.mean,
      demand: row.demand.kind,
      onHand: row.onHand,
      reserved: row.reserved,
      onOrder: row.onOrder,
      reorderAt: row.reorderAt,
      order: row.order,
      cost:
        price === undefined
          ? null
          : { amount: toMinorUnits(amount(price, 'typicalPrice').times(row.order), currency), currency },
      neverMoves: row.neverMoves,
      says: sayOf(row),
    };
  });
  const withoutKind = demand.filter((row) => row.kind === null).reduce((sum, row) => sum + row.quantity, 0);
  return { rows, terms, leadFrom, withoutKind, isUncounted: shelf.size === 0 };
}

export async function stock(
  desk: Desk,
  input: ParsedInputOf<'patterns.stock'>,
): Promise<OutputOf<'patterns.stock'>> {
  const { book } = await desk.book();
  const now = desk.now();
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const { rows, terms, leadFrom, withoutKind, isUncounted } = await shelfOf(db, book, now, {
      ...(input.service === undefined ? {} : { service: input.service }),
      ...(input.leadDays === undefined ? {} : { leadDays: input.leadDays }),
      ...(input.coverDays === undefined ? {} : { coverDays: input.coverDays }),
    });
    const { currency } = await readShopSettings(db);
    const due = rows.filter((row) => row.order > 0);
    const remark = remarkOn({ fromMs: now.ms - 365 * msOfDay, untilMs: now.ms }, span, now.ms);
    return {
      ...terms,
      leadFrom,
      rows: rows.slice(0, input.limit ?? 100),
      cost: due.some((row) => row.cost === null)
        ? null
        : { amount: due.reduce((sum, row) => sum + (row.cost?.amount ?? 0), 0), currency },
      remark:
        remark ??
        (isUncounted
          ? 'Nothing is counted on the shelf yet, so every kind of part looks as if it were missing.'
          : withoutKind > 0
            ? `${withoutKind} parts used in the last year were noted without a kind and are not in here.`
            : null),
    };
  });
}
