import type { Conditions, Judgement, QuantityJudge } from './judgement.ts';
import { say } from './judgement.ts';

/** Blade fuse ratings, A. Source: ISO 8820-3, types C and F. */
export const bladeRatings = [0.5, 1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40] as const;

interface OpeningBound {
  /** Load in percent of the rating. */
  readonly percent: number;
  readonly least_s: number | null;
  readonly most_s: number | null;
}

/** Opening times by load, type C below 35 A. Source: ISO 8820-3 (110, 350 and 600 % from memory of the standard). */
const smallBounds: readonly OpeningBound[] = [
  { percent: 110, least_s: 360_000, most_s: null },
  { percent: 135, least_s: 0.75, most_s: 600 },
  { percent: 160, least_s: 0.25, most_s: 50 },
  { percent: 200, least_s: 0.15, most_s: 5 },
  { percent: 350, least_s: 0.04, most_s: 0.5 },
  { percent: 600, least_s: 0.02, most_s: 0.1 },
];
/** The same for 35 and 40 A. */
const largeBounds: readonly OpeningBound[] = [
  { percent: 100, least_s: 360_000, most_s: null },
  { percent: 135, least_s: 0.75, most_s: 600 },
  { percent: 200, least_s: 0.15, most_s: 5 },
  { percent: 350, least_s: 0.08, most_s: 0.5 },
  { percent: 600, least_s: null, most_s: 0.15 },
];
/** Continuous load that leaves a fuse its reserve, percent. Common practice; space design rules go down to 65 %. */
const reservePercent = 80;

/**
 * What the standard promises about opening at a load, seconds. Between its points only bounds hold: longer than the next
 * higher point's least time, at most the next lower point's greatest time. Null is open.
 */
export function fuseOpening(
  rating_a: number,
  load_a: number,
): { readonly least_s: number | null; readonly most_s: number | null } {
  const bounds = rating_a >= 35 ? largeBounds : smallBounds;
  const percent = (100 * load_a) / rating_a;
  const above = bounds.find((bound) => bound.percent >= percent - 1e-9);
  const below = bounds.findLast((bound) => bound.percent <= percent + 1e-9);
  return { least_s: above?.least_s ?? null, most_s: below?.most_s ?? null };
}

function judgeFuse(value: number, conditions: Conditions): Judgement {
  const { rating_a } = conditions;
  const load = Math.abs(value);
  const base = {
    value,
    unit: 'A',
    low: null,
    basis: 'published: ISO 8820-3, opening times; reserve by common practice',
  };
  if (rating_a === undefined || !(rating_a > 0)) {
    return {
      ...base,
      verdict: 'cannot-say',
      high: null,
      why: 'Note the rating of the fuse in amperes with the reading.',
    };
  }
  const percent = (100 * load) / rating_a;
  const high = (rating_a * reservePercent) / 100;
  const { least_s, most_s } = fuseOpening(rating_a, load);
  const odd = (bladeRatings as readonly number[]).includes(rating_a)
    ? ''
    : ` ${say(rating_a)} A is no blade fuse rating.`;
  if (percent <= reservePercent) {
    return {
      ...base,
      verdict: 'good',
      high,
      why: `${say(percent, 3)} % of the rating; it holds with reserve.${odd}`,
    };
  }
  const holds = least_s !== null && least_s >= 360_000;
  if (holds) {
    const why = `${say(percent, 3)} % of the rating: it holds at least 100 h, but without reserve.${odd} Never fit a larger fuse.`;
    return { ...base, verdict: 'high', high, why };
  }
  const least = least_s === null ? '' : ` not before ${say(least_s)} s`;
  const most = most_s === null ? '' : `${least ? ' and' : ''} within ${say(most_s)} s`;
  const opens = least || most ? `it opens${least}${most}` : 'the standard gives no opening time here';
  const why = `${say(percent, 3)} % of the rating: ${opens}.${odd} Find the overload; never fit a larger fuse.`;
  return { ...base, verdict: 'bad', high, why };
}

export const fuseJudge: QuantityJudge = {
  names: ['fuse-load', 'fuse-current', 'fuse'],
  unit: 'A',
  possible: { low: -200, high: 200 },
  judge: judgeFuse,
};
