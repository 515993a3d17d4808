import { type CalibrationBin, calibrationBins, plainFrequency, type Shown, surprise } from './calibration.ts';
import { binomialInterval, type Interval } from './intervals.ts';

/** A ranking as it was shown when a job came in, and what was proven in the end (null: a cause that the book lacks). */
export interface Ranked {
  readonly closedMs: number;
  readonly symptomId: string | null;
  /** Cause and chance, best first. */
  readonly causes: readonly (readonly [causeId: string, chance: number])[];
  /** Chance of a cause that the book lacks. */
  readonly unlisted: number;
  readonly proven: readonly (string | null)[];
}

export interface Held extends Interval {
  readonly held: number;
  readonly of: number;
  /** With exact 95 % limits; 0 of 0 has the share 0 and every possible limit. */
  readonly share: number;
}

export interface Accuracy {
  readonly rankings: number;
  readonly first: Held;
  readonly firstThree: Held;
  readonly bins: readonly CalibrationBin[];
  /** Mean surprise of the later part, in natural logarithms, beside what plain frequency of the earlier part would have had. */
  readonly score: {
    readonly rankings: number;
    /** The first of the later part, UTC milliseconds. */
    readonly splitMs: number;
    readonly shown: number;
    readonly frequency: number;
  } | null;
  /** Rankings with one proven cause, on which bins and score rest. */
  readonly single: number;
}

/** The newest part that is scored; the rest teaches the plain frequency. */
const scored = 0.3;
/** Fewer rankings than these give no score. */
const fewest = 20;

const heldOf = (held: number, of: number): Held => ({
  held,
  of,
  share: of === 0 ? 0 : held / of,
  ...binomialInterval(held, of),
});

/**
 * Was the book right: how often the first and the first three causes shown at opening held, whether chances meant what they
 * said, and the log score against a ranking by plain frequency that knew only the jobs before the split.
 */
export function accuracyOf(all: readonly Ranked[]): Accuracy {
  const sorted = [...all]
    .filter((one) => one.causes.length > 0 && one.proven.length > 0)
    .sort((a, b) => a.closedMs - b.closedMs);
  const within = (count: number): number =>
    sorted.filter((one) => one.causes.slice(0, count).some(([causeId]) => one.proven.includes(causeId)))
      .length;
  const single = sorted.filter((one) => one.proven.length === 1);
  const shown = single.flatMap((one): Shown[] => [
    ...one.causes.map(([causeId, chance]) => ({ chance, held: one.proven[0] === causeId })),
    { chance: one.unlisted, held: one.proven[0] === null },
  ]);
  return {
    rankings: sorted.length,
    first: heldOf(within(1), sorted.length),
    firstThree: heldOf(within(3), sorted.length),
    bins: calibrationBins(shown),
    score: scoreOf(single),
    single: single.length,
  };
}

/** The chance that was shown for what was proven; a cause that the ranking lacked was part of "not in the book". */
function shownChance(one: Ranked): number {
  const proven = one.proven[0] ?? null;
  const listed = one.causes.find(([causeId]) => causeId === proven);
  return listed ? listed[1] : one.unlisted;
}

function scoreOf(single: readonly Ranked[]): Accuracy['score'] {
  const split = Math.floor(single.length * (1 - scored));
  const later = single.slice(split);
  const [start] = later;
  if (!start || later.length < fewest) return null;
  const times = new Map<string, number>();
  const bySymptom = new Map<string, number>();
  for (const one of single.slice(0, split)) {
    const key = JSON.stringify([one.symptomId, one.proven[0] ?? null]);
    times.set(key, (times.get(key) ?? 0) + 1);
    bySymptom.set(one.symptomId ?? '', (bySymptom.get(one.symptomId ?? '') ?? 0) + 1);
  }
  const frequency = (one: Ranked): number => {
    const proven = one.proven[0] ?? null;
    // A cause that the ranking lacked counts with those that the book lacks, for both.
    const isListed = one.causes.some(([causeId]) => causeId === proven);
    const key = JSON.stringify([one.symptomId, isListed ? proven : null]);
    return plainFrequency(
      times.get(key) ?? 0,
      bySymptom.get(one.symptomId ?? '') ?? 0,
      one.causes.length + 1,
    );
  };
  const mean = (chance: (one: Ranked) => number): number =>
    later.reduce((sum, one) => sum + surprise(chance(one)), 0) / later.length;
  return {
    rankings: later.length,
    splitMs: start.closedMs,
    shown: mean(shownChance),
    frequency: mean(frequency),
  };
}

/** The same words for a cause that the book lacks, counted; most often first. */
export function groupWords(
  said: readonly { readonly words: string; readonly jobNumber: number }[],
): { readonly words: string; readonly times: number; readonly jobNumbers: readonly number[] }[] {
  const groups = new Map<string, { words: string; jobNumbers: number[] }>();
  for (const { words, jobNumber } of said) {
    const key = words.trim().toLowerCase().replace(/\s+/g, ' ');
    const group = groups.get(key) ?? { words: words.trim(), jobNumbers: [] };
    group.jobNumbers.push(jobNumber);
    groups.set(key, group);
  }
  return [...groups.values()]
    .map(({ words, jobNumbers }) => ({
      words,
      times: jobNumbers.length,
      jobNumbers: jobNumbers.slice(0, 10),
    }))
    .sort((a, b) => b.times - a.times || (a.words < b.words ? -1 : 1));
}
