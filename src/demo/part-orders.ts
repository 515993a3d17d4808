import type { Dice } from './dice.ts';
import type { JobParts } from './job-parts.ts';
import type { DemoShop } from './make-shop.ts';

/** An order of the invented shop; for the shelf where it names no job. */
export interface DemoPartOrder {
  readonly job: number | null;
  readonly partId: string;
  readonly supplierId: string;
  readonly quantity: number;
  readonly madeMs: number;
  readonly expectedMs: number;
  /** Null while it is awaited. */
  readonly arrivedMs: number | null;
}

const day = 86_400_000;
const hour = 3_600_000;
/** Days that a supplier of the invented town takes as a rule, by his place in the list. */
const usualDays = [2, 3, 6, 4] as const;
/** The shelf is filled up about this often. */
const shelfOrders = 160;
const shelfYears = 2;

/** Days from order to arrival: around the usual ones, now and then much longer. */
const drawDays = (usual: number, dice: Dice): number =>
  Math.max(1, usual * Math.exp(0.3 * dice.normal()) * (dice.chance(0.06) ? 3 : 1));

/**
 * Orders for the shelf over two years, of what the jobs used up, and those of the open cards: awaited, late and arrived.
 * @param supplierIds in the order of the invented town's list
 */
export function drawOrders(
  shop: DemoShop,
  parts: JobParts,
  supplierIds: readonly string[],
  untilMs: number,
  dice: Dice,
): DemoPartOrder[] {
  const usualOf = (supplierId: string): number => usualDays[supplierIds.indexOf(supplierId)] ?? 4;
  const used = shop.jobs.filter(
    (job) => job.closedMs !== null && job.closedMs > untilMs - shelfYears * 365 * day && job.parts.length > 0,
  );
  const shelf = Array.from({ length: used.length === 0 ? 0 : shelfOrders }, () => dice.pick(used)).flatMap(
    (job) => {
      const need = dice.pick(job.parts);
      const found = parts.find(job.vehicle, need.kind, need.supplier);
      if (!found) return [];
      const madeMs = Math.min((job.closedMs ?? 0) + 2 * hour, untilMs - 3 * hour);
      const { supplierId } = found.price;
      const arrivedMs = madeMs + Math.round(drawDays(usualOf(supplierId), dice) * day);
      return [
        {
          job: null,
          partId: found.part.id,
          supplierId,
          quantity: dice.whole(1, 4) * need.quantity,
          madeMs,
          expectedMs: madeMs + usualOf(supplierId) * day,
          arrivedMs: arrivedMs < untilMs ? arrivedMs : null,
        },
      ];
    },
  );
  return [...shelf, ...ordersOfOpen(shop, parts, untilMs, usualOf)];
}

/** What the open cards wait for: the first is late, the next is expected, and a job in work has got its part. */
function ordersOfOpen(
  shop: DemoShop,
  parts: JobParts,
  untilMs: number,
  usualOf: (supplierId: string) => number,
): DemoPartOrder[] {
  const made: DemoPartOrder[] = [];
  let waiting = 0;
  for (const [place, job] of shop.jobs.entries()) {
    const isWaiting = job.status === 'waiting-for-parts';
    if (job.closedMs !== null || !(isWaiting || job.status === 'in-work')) continue;
    const likely = parts.likely(job);
    if (!likely) continue;
    const { found, quantity } = likely;
    const isLate = isWaiting && waiting === 0;
    if (isWaiting) waiting += 1;
    const madeMs = Math.min(job.openedMs + hour, untilMs - hour / 2);
    made.push({
      job: place,
      partId: found.part.id,
      supplierId: found.price.supplierId,
      quantity,
      madeMs,
      expectedMs: isLate
        ? Math.max(madeMs + hour / 4, untilMs - 3 * hour)
        : isWaiting
          ? untilMs + usualOf(found.price.supplierId) * day
          : untilMs - hour / 4,
      arrivedMs: isWaiting ? null : untilMs - hour / 4,
    });
  }
  return made;
}
