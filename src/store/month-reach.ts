import type { Db } from './tables.ts';

/** From here (inclusive) up to here (exclusive), UTC milliseconds. */
export interface Stretch {
  readonly fromMs: number;
  readonly untilMs: number;
}

/** Months as year × 12 + month (0 = January), both inclusive. */
export interface Months {
  readonly from: number;
  readonly until: number;
}

/** A piece of a stretch whose closings are counted one by one: those of months before, or after, the whole months. */
export interface Edge extends Stretch {
  readonly beforeMonth?: number;
  readonly afterMonth?: number;
}

/** A stretch taken apart: months that lie in it wholly and are counted already, and what is left at its ends. */
export interface Reach {
  readonly months: Months | null;
  readonly edges: readonly Edge[];
}

/** No clock on earth is further from UTC. */
const widestOffset = 14 * 3_600_000;
const earliest = -1_000_000;
const latest = 1_000_000;

const monthOfUtc = (ms: number): number => {
  const at = new Date(ms);
  return at.getUTCFullYear() * 12 + at.getUTCMonth();
};

/** The first moment of a month on a clock that shows UTC. */
export const monthStartUtc = (month: number): number => Date.UTC(Math.floor(month / 12), month % 12, 1);

/**
 * Takes a stretch apart. Months are those of the shop's clock at each closing, so near the ends only months are taken
 * that lie in the stretch on every clock. An end beyond the first or the last closing has no edge.
 */
export function reachOf(
  { fromMs, untilMs }: Stretch,
  span: { readonly firstMs: number; readonly lastMs: number } | null,
): Reach {
  if (!span || fromMs > span.lastMs || untilMs <= span.firstMs || fromMs >= untilMs)
    return { months: null, edges: [] };
  const isFromStart = fromMs <= span.firstMs;
  const isToEnd = untilMs > span.lastMs;
  const from = isFromStart ? earliest : monthOfUtc(fromMs + widestOffset - 1) + 1;
  const until = isToEnd ? latest : monthOfUtc(untilMs - widestOffset) - 1;
  if (from > until) return { months: null, edges: [{ fromMs, untilMs }] };
  const edges: Edge[] = [];
  if (!isFromStart)
    edges.push({
      fromMs,
      untilMs: Math.min(untilMs, monthStartUtc(from) + widestOffset),
      beforeMonth: from,
    });
  if (!isToEnd)
    edges.push({
      fromMs: Math.max(fromMs, monthStartUtc(until + 1) - widestOffset),
      untilMs,
      afterMonth: until,
    });
  return { months: { from, until }, edges };
}

/** The first and the last closing; null when nothing is closed. */
export async function ledgerSpan(db: Db): Promise<{ firstMs: number; lastMs: number } | null> {
  // One end at a time: the index answers each at once, both together it would be read through.
  const end = (way: 'asc' | 'desc') =>
    db
      .selectFrom('concerns')
      .select('closed_ms')
      .where('state', '=', 'closed')
      .where('closed_ms', 'is not', null)
      .orderBy('closed_ms', way)
      .limit(1)
      .executeTakeFirst();
  const first = await end('asc');
  const last = await end('desc');
  if (first?.closed_ms == null || last?.closed_ms == null) return null;
  return { firstMs: Number(first.closed_ms), lastMs: Number(last.closed_ms) };
}

export async function reach(db: Db, stretch: Stretch): Promise<Reach> {
  return reachOf(stretch, await ledgerSpan(db));
}
