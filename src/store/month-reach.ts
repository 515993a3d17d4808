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

/**
 * A piece at an end of a stretch whose closings are counted one by one, and added (1) to the whole months or taken away (-1):
 * those of one month, which need not be worked out then, or of months before or after some month.
 */
export interface Edge extends Stretch {
  readonly sign: 1 | -1;
  readonly month?: number;
  readonly beforeMonth?: number;
  readonly afterMonth?: number;
}

/** A stretch taken apart: months that are counted already, and what has to be added or taken away at its ends. */
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

/** Closings from one moment to another whose months on the shop's clock are from `least` to `most`. */
interface Wanted extends Stretch {
  readonly sign: 1 | -1;
  readonly least: number;
  readonly most: number;
}

/** Cuts where the month is the same on every clock from where it is not; what cannot have such a closing is left out. */
function cut({ fromMs, untilMs, sign, least, most }: Wanted): Edge[] {
  const pieces: Edge[] = [];
  let at = fromMs;
  while (at < untilMs) {
    const low = monthOfUtc(at - widestOffset);
    const high = monthOfUtc(at + widestOffset);
    const isSure = low === high;
    const next = Math.min(
      untilMs,
      monthStartUtc(high + (isSure ? 1 : 0)) + (isSure ? -widestOffset : widestOffset),
    );
    const piece = { fromMs: at, untilMs: next, sign };
    if (isSure) {
      if (low >= least && low <= most) pieces.push({ ...piece, month: low });
    } else if (high >= least && low <= most)
      pieces.push({
        ...piece,
        ...(low < least ? { afterMonth: least - 1 } : {}),
        ...(high > most ? { beforeMonth: most + 1 } : {}),
      });
    at = next;
  }
  return pieces;
}

const lengthOf = (pieces: readonly Wanted[]): number =>
  pieces.reduce((sum, piece) => sum + Math.max(0, piece.untilMs - piece.fromMs), 0);

/**
 * Takes a stretch apart. Months are those of the shop's clock at each closing, so that near the start of a month either of two
 * may be meant. An end in the middle of a month takes the shorter way: that month without what lies outside of the stretch, or the
 * months after it and what lies inside. An end beyond the first or the last closing has no edge.
 */
export function reachOf(
  { fromMs, untilMs }: Stretch,
  span: { readonly firstMs: number; readonly lastMs: number } | null,
): Reach {
  if (!span || fromMs > span.lastMs || untilMs <= span.firstMs || fromMs >= untilMs)
    return { months: null, edges: [] };
  const clip = (piece: Wanted): Wanted => ({
    ...piece,
    fromMs: Math.max(piece.fromMs, span.firstMs),
    untilMs: Math.min(piece.untilMs, span.lastMs + 1),
  });
  const left = (from: number): { month: number; pieces: Wanted[] } => ({
    month: from,
    pieces: [
      {
        fromMs,
        untilMs: monthStartUtc(from) + widestOffset,
        sign: 1 as const,
        least: earliest,
        most: from - 1,
      },
      {
        fromMs: monthStartUtc(from) - widestOffset,
        untilMs: fromMs,
        sign: -1 as const,
        least: from,
        most: latest,
      },
    ].map(clip),
  });
  const right = (until: number): { month: number; pieces: Wanted[] } => ({
    month: until,
    pieces: [
      {
        fromMs: monthStartUtc(until + 1) - widestOffset,
        untilMs,
        sign: 1 as const,
        least: until + 1,
        most: latest,
      },
      {
        fromMs: untilMs,
        untilMs: monthStartUtc(until + 1) + widestOffset,
        sign: -1 as const,
        least: earliest,
        most: until,
      },
    ].map(clip),
  });
  const shorter = (ways: { month: number; pieces: Wanted[] }[]) =>
    ways.reduce((best, way) => (lengthOf(way.pieces) < lengthOf(best.pieces) ? way : best));
  const first = monthOfUtc(fromMs);
  const last = monthOfUtc(untilMs);
  const start =
    fromMs <= span.firstMs ? { month: earliest, pieces: [] } : shorter([left(first + 1), left(first)]);
  const end = untilMs > span.lastMs ? { month: latest, pieces: [] } : shorter([right(last - 1), right(last)]);
  const pieces = [...start.pieces, ...end.pieces];
  if (start.month > end.month || lengthOf(pieces) >= untilMs - fromMs)
    return { months: null, edges: [{ fromMs, untilMs, sign: 1 }] };
  return { months: { from: start.month, until: end.month }, edges: pieces.flatMap(cut) };
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
