import { binomialAtLeast } from './compare-rates.ts';
import { falseDiscovery } from './false-discovery.ts';

/** Proven concerns of one symptom on machines on which the same causes can occur. */
export interface AdviceGroup {
  readonly concerns: number;
  readonly counts: ReadonlyMap<string, number>;
  readonly canOccur: (causeId: string) => boolean;
}

export interface AdviceSymptom {
  readonly symptomId: string;
  /** Of 100, as the book has it. */
  readonly priors: readonly { readonly causeId: string; readonly of100: number }[];
  readonly unlistedOf100: number;
  readonly groups: readonly AdviceGroup[];
}

export interface PriorAdvice {
  readonly symptomId: string;
  readonly causeId: string;
  readonly concerns: number;
  readonly proven: number;
  /** What the book's shares would have led to on these machines. */
  readonly expected: number;
  readonly now: number;
  /** Of 100: the share that would have led to what was proven. */
  readonly becomes: number;
  readonly falseShare: number;
}

/** With fewer proven concerns a symptom says little about its shares. */
export const fewestConcerns = 20;
const allowed = 0.05;
const most = 90;

/** How many of the group's concerns the book's shares would give this cause: causes that cannot occur do not compete. */
function expectedIn(group: AdviceGroup, symptom: AdviceSymptom, causeId: string): number {
  if (!group.canOccur(causeId)) return 0;
  let all = symptom.unlistedOf100;
  let own = 0;
  for (const prior of symptom.priors) {
    if (!group.canOccur(prior.causeId)) continue;
    all += prior.of100;
    if (prior.causeId === causeId) own = prior.of100;
  }
  return (group.concerns * own) / all;
}

const odds = (part: number, all: number): number => part / (all - part);

/**
 * Where the shop's proven concerns contradict the book's shares: an exact binomial test of each cause's count against its mean
 * expected share (conservative where machines differ), corrected for looking at many (Benjamini & Hochberg 1995).
 * @returns the most striking first; `tested` counts the pairs of symptom and cause that were looked at
 */
export function priorAdvice(symptoms: readonly AdviceSymptom[]): {
  readonly advice: readonly PriorAdvice[];
  readonly symptoms: number;
  readonly tested: number;
} {
  const looked: (Omit<PriorAdvice, 'falseShare'> & { readonly p: number })[] = [];
  let enough = 0;
  for (const symptom of symptoms) {
    const concerns = symptom.groups.reduce((sum, group) => sum + group.concerns, 0);
    if (concerns < fewestConcerns) continue;
    enough += 1;
    for (const { causeId, of100 } of symptom.priors) {
      const proven = symptom.groups.reduce((sum, group) => sum + (group.counts.get(causeId) ?? 0), 0);
      const expected = symptom.groups.reduce((sum, group) => sum + expectedIn(group, symptom, causeId), 0);
      if (expected <= 0 || expected >= concerns || proven > concerns) continue;
      const share = expected / concerns;
      const atLeast = binomialAtLeast(proven, concerns, share);
      const atMost = 1 - binomialAtLeast(proven + 1, concerns, share);
      const p = Math.min(1, 2 * Math.min(atLeast, Math.max(0, atMost)));
      // Half a concern is added to either side, so that none and all keep a share that is possible.
      const ratio = odds(proven + 0.5, concerns + 1) / odds(expected + 0.5, concerns + 1);
      const newOdds = odds(of100, 100) * ratio;
      const becomes = Math.min(most, Math.max(1, Math.round((100 * newOdds) / (1 + newOdds))));
      looked.push({
        symptomId: symptom.symptomId,
        causeId,
        concerns,
        proven,
        expected,
        now: of100,
        becomes,
        p,
      });
    }
  }
  const falseShares = falseDiscovery(looked.map((one) => one.p));
  const advice = looked
    .map(({ p, ...one }, place) => ({ ...one, falseShare: falseShares[place] ?? 1, p }))
    .filter((one) => one.falseShare <= allowed && one.becomes !== Math.round(one.now))
    .sort((a, b) => a.p - b.p)
    .map(({ p, ...one }) => one);
  return { advice, symptoms: enough, tested: looked.length };
}

/** Of 100, for a cause that the book lacks: what the shop proved, at least 1 and at most half. */
export const shareProven = (proven: number, of: number): number =>
  Math.min(50, Math.max(1, Math.round((100 * proven) / of)));

/**
 * Shares of 100 after one of them is set: the others keep their proportions, in whole numbers of at least 1 (tenths where so
 * many do not fit), and all make 100 again (largest remainders).
 * @param shares each above 0, the one to set among them or not
 * @param set above 0, at most 90
 */
export function sharesAfter(
  shares: ReadonlyMap<string, number>,
  key: string,
  set: number,
): Map<string, number> {
  const others = [...shares].filter(([each]) => each !== key);
  const all = others.reduce((sum, [, share]) => sum + share, 0);
  for (const unit of [1, 0.1]) {
    const left = Math.round((100 - set) / unit);
    if (left < others.length) continue;
    const exact = others.map(([each, share]) => ({ each, exact: (share / all) * left }));
    const whole = exact.map((one) => ({ ...one, units: Math.max(1, Math.floor(one.exact)) }));
    let over = whole.reduce((sum, one) => sum + one.units, 0) - left;
    const byRemainder = [...whole].sort((a, b) => b.exact - b.units - (a.exact - a.units));
    while (over < 0)
      for (const one of byRemainder) {
        if (over === 0) break;
        one.units += 1;
        over += 1;
      }
    while (over > 0) {
      const largest = whole.reduce((a, b) => (b.units - b.exact > a.units - a.exact && b.units > 1 ? b : a));
      const from = largest.units > 1 ? largest : whole.reduce((a, b) => (b.units > a.units ? b : a));
      from.units -= 1;
      over -= 1;
    }
    const after = new Map(whole.map((one) => [one.each, unit === 1 ? one.units : one.units / 10]));
    after.set(key, set);
    return after;
  }
  throw new RangeError('So many shares do not fit into 100.');
}
