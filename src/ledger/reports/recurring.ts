import { type Counted, compareRates, smallestRise } from './compare-rates.ts';
import { falseDiscovery } from './false-discovery.ts';
import { poissonInterval } from './intervals.ts';

/** Concerns of one group in two periods, and the visits they are counted against. */
export interface GroupCounts {
  readonly key: string;
  readonly concerns: number;
  readonly visits: number;
  /** In the comparison period; 0 and 0 where there is none. */
  readonly before: { readonly concerns: number; readonly visits: number };
}

export interface Rate {
  /** Concerns per 100 visits with exact 95 % limits. */
  readonly per100: number;
  readonly low: number;
  readonly high: number;
}

export interface Change {
  /** Null where there was none before. */
  readonly ratio: number | null;
  readonly low: number;
  /** Null where it is open. */
  readonly high: number | null;
  readonly p: number;
  /** Of the groups that are at least as striking, at most this share is chance. */
  readonly falseShare: number;
}

export interface Recurring extends GroupCounts {
  /** Null where the numbers are too small for a rate. */
  readonly rate: Rate | null;
  readonly rateBefore: Rate | null;
  /** Share of all counted concerns, and with all groups before it: the Pareto line. */
  readonly share: number;
  readonly cumulative: number;
  readonly change: Change | null;
}

/** With fewer concerns or visits than these a rate says more than is known; the numbers are shown instead. Our judgment, no source. */
export const fewConcerns = 5;
export const fewVisits = 20;

/** Concerns per 100 visits; null where the numbers are too small. A visit can bring several, so it is no share. */
export function rateOf(concerns: number, visits: number): Rate | null {
  if (concerns < fewConcerns || visits < fewVisits) return null;
  const { low, high } = poissonInterval(concerns);
  return { per100: (100 * concerns) / visits, low: (100 * low) / visits, high: (100 * high) / visits };
}

/** Chances above this are out of reach for a group with so few concerns: it is not tested, and costs the others nothing. */
const reach = 0.01;

/**
 * Groups from the most to the fewest concerns with rates, Pareto line, and the exact comparison with the other period.
 * A test that could not show anything for want of concerns is left out before the correction for many (Tarone, Biometrics
 * 46, 1990: what it left out depends only on the total, on which the test is conditioned).
 */
export function recurringGroups(groups: readonly GroupCounts[]): Recurring[] {
  const sorted = [...groups]
    .filter((group) => group.concerns > 0 || group.before.concerns > 0)
    .sort(
      (a, b) => b.concerns - a.concerns || b.before.concerns - a.before.concerns || (a.key < b.key ? -1 : 1),
    );
  const all = sorted.reduce((sum, group) => sum + group.concerns, 0);
  const compared = sorted.map(comparisonOf);
  const tested = compared.flatMap((one, place) => (one?.isTested ? [place] : []));
  const corrected = falseDiscovery(tested.map((place) => compared[place]?.result.p ?? 1));
  const falseShares = new Map(tested.map((place, k) => [place, corrected[k] ?? 1]));
  let before = 0;
  return sorted.map((group, place) => {
    before += group.concerns;
    const one = compared[place];
    return {
      ...group,
      rate: rateOf(group.concerns, group.visits),
      rateBefore: rateOf(group.before.concerns, group.before.visits),
      share: all === 0 ? 0 : group.concerns / all,
      cumulative: all === 0 ? 0 : before / all,
      change: one
        ? {
            ratio: one.result.ratio,
            low: one.result.low,
            high: one.result.high,
            p: one.result.p,
            falseShare: falseShares.get(place) ?? 1,
          }
        : null,
    };
  });
}

function comparisonOf(group: GroupCounts) {
  const now: Counted = { events: group.concerns, exposure: group.visits };
  const then: Counted = { events: group.before.concerns, exposure: group.before.visits };
  if (now.exposure <= 0 || then.exposure <= 0) return null;
  const share = now.exposure / (now.exposure + then.exposure);
  return {
    result: compareRates(now, then),
    isTested: smallestRise(now.events + then.events, share) <= reach,
  };
}
