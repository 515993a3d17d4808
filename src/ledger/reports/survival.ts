import { chiSquaredCdf } from './trend.ts';

/** How long something was seen, and whether it ended with the event or just went out of sight. */
export interface Life {
  /** At least 0, in any unit. */
  readonly time: number;
  readonly isEvent: boolean;
  /** How many lived so; 1 where it is left out. */
  readonly count?: number;
}

export interface SurvivalStep {
  readonly time: number;
  /** In sight just before. */
  readonly atRisk: number;
  readonly events: number;
  /** Share that lasts beyond this time, 0 to 1. */
  readonly lasts: number;
  /** Greenwood's standard error of that share; null where nothing is left. */
  readonly error: number | null;
}

function grouped(lives: readonly Life[]): { time: number; events: number; gone: number }[] {
  const by = new Map<number, { time: number; events: number; gone: number }>();
  for (const { time, isEvent, count = 1 } of lives) {
    const at = by.get(time) ?? { time, events: 0, gone: 0 };
    at.gone += count;
    if (isEvent) at.events += count;
    by.set(time, at);
  }
  return [...by.values()].sort((a, b) => a.time - b.time);
}

/**
 * The share that lasts beyond each event (Kaplan & Meier, Journal of the American Statistical Association 53, 1958) with
 * Greenwood's standard error. What goes out of sight at a time still counts as at risk at that time.
 */
export function kaplanMeier(lives: readonly Life[]): SurvivalStep[] {
  let atRisk = lives.reduce((sum, life) => sum + (life.count ?? 1), 0);
  let lasts = 1;
  let sum = 0;
  const steps: SurvivalStep[] = [];
  for (const { time, events, gone } of grouped(lives)) {
    if (events > 0) {
      lasts *= 1 - events / atRisk;
      if (atRisk > events) sum += events / (atRisk * (atRisk - events));
      steps.push({ time, atRisk, events, lasts, error: lasts > 0 ? lasts * Math.sqrt(sum) : null });
    }
    atRisk -= gone;
  }
  return steps;
}

/** The share that lasts beyond a time, from the steps. */
export function lastsBeyond(steps: readonly SurvivalStep[], time: number): number {
  return steps.findLast((step) => step.time <= time)?.lasts ?? 1;
}

export interface LogRank {
  readonly statistic: number;
  readonly p: number;
  /** Events in the first group, and how many were to be expected if both lasted alike. */
  readonly seen: number;
  readonly expected: number;
}

/**
 * Compares how long two groups last (Mantel, Cancer Chemotherapy Reports 50, 1966), one degree of freedom.
 * @returns null where no event tells the groups apart
 */
export function logRank(first: readonly Life[], second: readonly Life[]): LogRank | null {
  const times = [
    ...new Set([...first, ...second].filter((life) => life.isEvent).map((life) => life.time)),
  ].sort((a, b) => a - b);
  const one = sideOf(first);
  const other = sideOf(second);
  let seen = 0;
  let expected = 0;
  let variance = 0;
  for (const time of times) {
    const n1 = one.atRisk(time);
    const n2 = other.atRisk(time);
    const d1 = one.events(time);
    const d = d1 + other.events(time);
    const n = n1 + n2;
    seen += d1;
    expected += (d * n1) / n;
    if (n > 1) variance += (d * n1 * n2 * (n - d)) / (n * n * (n - 1));
  }
  if (variance <= 0) return null;
  const statistic = (seen - expected) ** 2 / variance;
  return { statistic, p: 1 - chiSquaredCdf(statistic, 1), seen, expected };
}

function sideOf(lives: readonly Life[]) {
  const groups = grouped(lives);
  const events = new Map(groups.map((group) => [group.time, group.events]));
  return {
    atRisk: (time: number): number =>
      groups.reduce((sum, group) => (group.time >= time ? sum + group.gone : sum), 0),
    events: (time: number): number => events.get(time) ?? 0,
  };
}
