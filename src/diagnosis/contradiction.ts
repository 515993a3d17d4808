import type { Cause } from '../book/index.ts';
import type { CauseId } from '../terms.ts';
import { type Evidence, meanChances, pairChances } from './evidence.ts';
import { withSlips } from './outcome-chances.ts';
import type { WiringLikelihood } from './wiring/wiring-likelihood.ts';

/**
 * A cause explains the readings when what was seen is at most this much less likely than what the cause shows on
 * average: ln 15, one in fifteen. When no cause does, the readings contradict each other or the book.
 */
export const surpriseLimit = Math.log(15);

/** How many faulty machines also have a second, independent fault behind the same symptom. Common practice, no source. */
export const secondFaultRate = 0.05;

/** The likeliest pairs by their tables are solved in the wiring with both faults in. */
const solvedPairs = 12;

export interface Contradiction {
  readonly why: string;
  /** Place of the reading most worth repeating, in the readings given. */
  readonly repeat: number | null;
  readonly repeatTitle: string | null;
}

export interface CausePair {
  readonly causeIds: CauseId[];
  readonly title: string;
  /** Against every single cause, the unlisted share, and the other pairs. */
  readonly probability: number;
}

/** Readings that no single cause explains, named, with the one whose loss would settle most; null when one explains them. */
export function findContradiction(evidence: Evidence, causes: readonly Cause[]): Contradiction | null {
  const counted = evidence.facts
    .map((fact, place) => ({ fact, place }))
    .filter(({ place }) => evidence.tellsApart[place]);
  if (counted.length === 0 || causes.length === 0) return null;
  const surpriseOf = (place: number, k: number): number =>
    (evidence.surprise[place] as Float64Array)[k] as number;
  const totals = causes.map((_, k) => counted.reduce((sum, { place }) => sum + surpriseOf(place, k), 0));
  const least = Math.min(...totals);
  if (least <= surpriseLimit) return null;

  let repeat = counted[0] as (typeof counted)[number];
  let left = Number.POSITIVE_INFINITY;
  for (const one of counted) {
    const without = Math.min(...causes.map((_, k) => (totals[k] as number) - surpriseOf(one.place, k)));
    const minutes = one.fact.check?.minutes ?? 1;
    const isBetter = without < left - 0.05;
    const isCheaper = without < left + 0.05 && minutes < (repeat.fact.check?.minutes ?? 1);
    if (isBetter || isCheaper) {
      repeat = one;
      left = Math.min(left, without);
    }
  }
  const best = totals.indexOf(least);
  const cause = causes[best] as Cause;
  const odd = counted
    .filter(({ place }) => surpriseOf(place, best) > 1)
    .sort((a, b) => surpriseOf(b.place, best) - surpriseOf(a.place, best))
    .map(
      ({ fact }) => `“${fact.check?.outcomes[fact.outcome]?.title ?? ''}” at “${fact.check?.title ?? ''}”`,
    );
  const title = repeat.fact.check?.title ?? null;
  const why =
    `No single cause in the book explains all readings. “${cause.title}” comes closest, but would hardly show ` +
    `${odd.slice(0, 2).join(' and ') || 'them together'}.${title ? ` Repeat “${title}” first.` : ''}`;
  return { why, repeat: repeat.fact.place, repeatTitle: title };
}

/**
 * Two causes at once, tried when no single one explains the readings. A pair's prior is both shares times the rate of
 * second faults. The likeliest pairs that do explain the readings, at most `limit`.
 * Source: de Kleer and Williams, Diagnosing multiple faults (1987), for the order: fewer faults first.
 */
export function findPairs(
  evidence: Evidence,
  causes: readonly Cause[],
  shares: ArrayLike<number>,
  wiring: WiringLikelihood | null,
  limit = 3,
): CausePair[] {
  const facts = evidence.facts.flatMap(({ check, outcome }) =>
    check && outcome >= 0 ? [{ check, outcome }] : [],
  );
  const tablesOf = (cause: Cause | null, weights: readonly number[]): number[][] =>
    facts.map(({ check }) => meanChances(check, cause, wiring, weights));
  const chanceOfAll = (table: readonly (readonly number[])[]): number =>
    facts.reduce(
      (product, { outcome }, place) => product * ((table[place] as number[])[outcome] as number),
      1,
    );

  const tables = causes.map((cause, k) => tablesOf(cause, evidence.severities[k] as readonly number[]));
  let everything = (shares[causes.length] as number) * chanceOfAll(tablesOf(null, [1]));
  tables.forEach((table, k) => {
    everything += (shares[k] as number) * chanceOfAll(table);
  });
  /** Chances at every fact with both causes, from their tables; from the wiring where it can solve both at once. */
  const together = (a: number, b: number, solved: boolean): number[][] =>
    facts.map(({ check }, place) => {
      const [one, other] = [a, b].map((k) => causes[k]?.id as CauseId) as [CauseId, CauseId];
      const computed = solved ? wiring?.pairChancesFor(check.id, one, other) : null;
      if (computed) return withSlips(computed);
      const of = (k: number): number[] => (tables[k] as number[][])[place] as number[];
      return pairChances(check, of(a), of(b));
    });
  const weightOf = (a: number, b: number, both: number[][]): number =>
    secondFaultRate * (shares[a] as number) * (shares[b] as number) * chanceOfAll(both);

  const candidates: { a: number; b: number; both: number[][]; weight: number }[] = [];
  for (let a = 0; a < causes.length; a++) {
    for (let b = a + 1; b < causes.length; b++) {
      const both = together(a, b, false);
      candidates.push({ a, b, both, weight: weightOf(a, b, both) });
    }
  }
  candidates.sort((one, other) => other.weight - one.weight);
  const pairs = candidates.map((pair, rank) => {
    if (!wiring || rank >= solvedPairs) return pair;
    const both = together(pair.a, pair.b, true);
    return { ...pair, both, weight: weightOf(pair.a, pair.b, both) };
  });
  for (const pair of pairs) everything += pair.weight;
  const explains = ({ both }: { both: number[][] }): boolean => {
    let surprise = 0;
    both.forEach((chances, place) => {
      const seen = chances[(facts[place] as { outcome: number }).outcome] as number;
      surprise += chances.reduce((sum, chance) => sum + (chance > 0 ? chance * Math.log(chance) : 0), 0);
      surprise -= Math.log(seen);
    });
    return surprise <= surpriseLimit;
  };
  return pairs
    .filter(explains)
    .sort((one, other) => other.weight - one.weight)
    .slice(0, limit)
    .map(({ a, b, weight }) => {
      const first = causes[a] as Cause;
      const second = causes[b] as Cause;
      return {
        causeIds: [first.id, second.id],
        title: `${first.title} and ${second.title}`,
        probability: weight / everything,
      };
    });
}
