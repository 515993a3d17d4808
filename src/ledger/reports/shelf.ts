import { type Demand, demandOf, demandOver, reorderPoint } from './reorder.ts';

/** Use of one kind of part over stretches of 30 days, newest first, and what lies on the shelf. */
export interface ShelfUse {
  readonly kind: string;
  readonly used: readonly number[];
  readonly onHand: number;
  readonly reserved: number;
  readonly onOrder: number;
}

export interface ShelfOrder {
  /** From order to arrival, days, above 0. */
  readonly leadDays: number;
  /** How long an order should last beyond that, days, above 0. */
  readonly coverDays: number;
  /** Wanted chance of having it while an order is on its way, above 0, below 1. */
  readonly service: number;
}

export interface ShelfAdvice extends ShelfUse {
  readonly demand: Demand;
  /** Free now or on its way. */
  readonly available: number;
  /** Order when no more than this is left. */
  readonly reorderAt: number;
  /** How many to order now; 0 while more than the reorder point is there. */
  readonly order: number;
  /** None was used in all the time looked at. */
  readonly neverMoves: boolean;
}

const stretchDays = 30;

/** What to keep and what to order now, the most urgent first: most used among those to order, then the rest. */
export function shelfAdvice(uses: readonly ShelfUse[], terms: ShelfOrder): ShelfAdvice[] {
  return uses
    .map((use) => {
      const demand = demandOf(use.used);
      const available = use.onHand - use.reserved + use.onOrder;
      const point = (days: number): number =>
        reorderPoint(demandOver(demand, days / stretchDays), terms.service);
      const reorderAt = point(terms.leadDays);
      const upTo = point(terms.leadDays + terms.coverDays);
      const isDue = demand.mean > 0 && available <= reorderAt;
      return {
        ...use,
        demand,
        available,
        reorderAt,
        order: isDue ? Math.max(0, upTo - available) : 0,
        neverMoves: demand.mean === 0,
      };
    })
    .sort(
      (a, b) =>
        Number(b.order > 0) - Number(a.order > 0) ||
        b.demand.mean - a.demand.mean ||
        (a.kind < b.kind ? -1 : 1),
    );
}

/** The middle one of some numbers; null without any. */
export function median(numbers: readonly number[]): number | null {
  const sorted = [...numbers].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  if (sorted.length === 0) return null;
  return Number.isInteger(middle)
    ? ((sorted[middle - 1] ?? 0) + (sorted[middle] ?? 0)) / 2
    : (sorted[Math.floor(middle)] ?? null);
}
