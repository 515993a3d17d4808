import type { Book } from '../book/index.ts';
import { type DemoReading, drawChecks } from './bench-checks.ts';
import { createDice } from './dice.ts';
import { JobParts } from './job-parts.ts';
import { type DemoQuote, drawQuotes } from './job-quotes.ts';
import type { DemoCatalog } from './make-catalog.ts';
import type { DemoShop } from './make-shop.ts';
import { type DemoPartOrder, drawOrders } from './part-orders.ts';

export interface BenchWork {
  readonly readings: readonly DemoReading[];
  readonly quotes: readonly DemoQuote[];
  readonly orders: readonly DemoPartOrder[];
  /** Number of the part that was fitted; null where the catalog has none. */
  partNumber(vehicle: number, kind: string, supplier: string): string | null;
}

export interface BenchWorkOrder {
  readonly book: Book;
  readonly seed: number;
  /** The last moment of the ledger, UTC milliseconds. */
  readonly untilMs: number;
  /** Decimal string per hour. */
  readonly laborRate: string;
  readonly currency: string;
}

/**
 * What the invented shop wrote down beside its jobs: checks on a share of them, accepted quotes, orders of parts. It has
 * dice of its own, so that the jobs of a seed stay what they are. Pure: the same order gives the same.
 */
export function drawBenchWork(shop: DemoShop, catalog: DemoCatalog, order: BenchWorkOrder): BenchWork {
  const dice = (place: number) => createDice(order.seed + 7919 * place);
  const parts = new JobParts(order.book, shop, catalog);
  return {
    readings: drawChecks(order.book, shop, dice(1)),
    quotes: drawQuotes(order.book, shop, parts, order, dice(2)),
    orders: drawOrders(
      shop,
      parts,
      catalog.suppliers.map((one) => one.id),
      order.untilMs,
      dice(3),
    ),
    partNumber: (vehicle, kind, supplier) => parts.find(vehicle, kind, supplier)?.part.number ?? null,
  };
}
