import type { Cause, Check } from '../book/index.ts';
import type { WiringLikelihood } from './wiring/wiring-likelihood.ts';

/**
 * Chance that a person misreads or mistypes a reading, whatever the check: then any outcome is as likely as another.
 * Keeps a single slip from ruling out the true cause for good. Common practice, no source.
 */
export const slipChance = 0.01;

/** How far an unknown cause reads like a healthy machine in a check that was not made to see it. */
export const unlistedHealthyPart = 0.6;

/** Chances of the outcomes on a machine where nothing that this check can see is wrong; they sum to 1. */
export function healthyChances(check: Check): number[] {
  return scaled(check.outcomes.map((outcome) => Math.max(0, outcome.healthy)));
}

/**
 * Chances of the check's outcomes where `cause` is what is wrong and shows itself, in the order of the outcomes,
 * summing to 1. From the wiring where it knows; else from the check's table: what is written stands, what is left over
 * is shared among the outcomes that are not named, as on a healthy machine. A cause the check does not name reads healthy.
 */
export function outcomeChances(
  check: Check,
  cause: Cause,
  wiring?: WiringLikelihood | null,
  severity?: number,
): number[] {
  const computed = wiring?.chancesFor(check.id, cause.id, severity);
  if (computed) return scaled(computed);
  const healthy = wiring?.chancesFor(check.id, null) ?? healthyChances(check);
  const named = check.when[cause.id];
  if (!named) return scaled(healthy);
  let written = 0;
  let healthyRest = 0;
  let unnamed = 0;
  check.outcomes.forEach((outcome, place) => {
    const chance = named[outcome.id];
    if (chance === undefined) {
      healthyRest += healthy[place] as number;
      unnamed++;
    } else written += chance;
  });
  const left = Math.max(0, 1 - written);
  const chances = check.outcomes.map((outcome, place) => {
    const chance = named[outcome.id];
    if (chance !== undefined) return chance;
    return healthyRest > 0 ? (left * (healthy[place] as number)) / healthyRest : left / unnamed;
  });
  return scaled(chances);
}

/**
 * The same with the fault's own moods and the reader's slips: a fault that shows itself with chance s reads as
 * s × its outcome + (1 − s) × healthy, and every reading is a slip with `slipChance`. Never 0.
 */
export function shownChances(
  check: Check,
  cause: Cause,
  wiring?: WiringLikelihood | null,
  severity?: number,
): number[] {
  const chances = outcomeChances(check, cause, wiring, severity);
  const shows = cause.showsWith;
  if (shows >= 1) return withSlips(chances);
  const healthy = wiring?.chancesFor(check.id, null) ?? healthyChances(check);
  return withSlips(chances.map((chance, place) => shows * chance + (1 - shows) * (healthy[place] as number)));
}

/**
 * Chances under a cause that the book does not list: for the most part the check was not made to see it and reads
 * healthy, for the rest it reads anything. Never 0, so that no reading can rule out what nobody wrote down.
 */
export function unlistedChances(check: Check, wiring?: WiringLikelihood | null): number[] {
  const healthy = wiring?.chancesFor(check.id, null) ?? healthyChances(check);
  const even = 1 / check.outcomes.length;
  return withSlips(healthy.map((chance) => unlistedHealthyPart * chance + (1 - unlistedHealthyPart) * even));
}

export function withSlips(chances: readonly number[]): number[] {
  const even = slipChance / chances.length;
  return chances.map((chance) => (1 - slipChance) * chance + even);
}

function scaled(chances: readonly number[]): number[] {
  let total = 0;
  for (const chance of chances) total += chance;
  if (!(total > 0)) return chances.map(() => 1 / chances.length);
  return chances.map((chance) => chance / total);
}
