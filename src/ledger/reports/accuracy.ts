import { BinCount, type CalibrationBin, plainFrequency, surprise } from './calibration.ts';
import { binomialInterval, type Interval } from './intervals.ts';

/** A ranking as it was shown when a job came in, and what was proven in the end (null: a cause that the book lacks). */
export interface Ranked {
  readonly closedMs: number;
  /** When it was shown, before it was closed. */
  readonly shownMs: number;
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
  /**
   * Mean surprise of what was shown after the split, in natural logarithms, beside what the plain frequency of what was
   * closed before the split would have had.
   */
  readonly score: {
    readonly rankings: number;
    /** UTC milliseconds. */
    readonly splitMs: number;
    readonly shown: number;
    readonly frequency: number;
  } | null;
  /** Rankings with one proven cause, on which bins and score rest. */
  readonly single: number;
}

/** The newest part that is scored; the rest teaches the plain frequency. */
export const scoredShare = 0.3;
/** Fewer rankings than these give no score. */
const fewest = 20;

const heldOf = (held: number, of: number): Held => ({
  held,
  of,
  share: of === 0 ? 0 : held / of,
  ...binomialInterval(held, of),
});

/** The chance that was shown for what was proven; a cause that the ranking lacked was part of "not in the book". */
function shownChance(one: Ranked): number {
  const proven = one.proven[0] ?? null;
  const listed = one.causes.find(([causeId]) => causeId === proven);
  return listed ? listed[1] : one.unlisted;
}

/**
 * Was the book right: how often the first and the first three causes shown at opening held, whether chances meant what they
 * said, and the log score against a ranking by plain frequency that knew only the jobs before the split. Rankings are handed
 * over one by one, in the order of their closing, and none is kept.
 */
export class AccuracyCount {
  readonly #splitMs: number;
  readonly #bins = new BinCount();
  readonly #times = new Map<string, number>();
  readonly #bySymptom = new Map<string, number>();
  #rankings = 0;
  #first = 0;
  #firstThree = 0;
  #single = 0;
  #scored = 0;
  #shown = 0;
  #frequency = 0;

  /** @param splitMs what closed before teaches, what was shown from then on is scored; between them is neither */
  constructor(splitMs: number) {
    this.#splitMs = splitMs;
  }

  add(one: Ranked): void {
    if (one.causes.length === 0 || one.proven.length === 0) return;
    this.#rankings += 1;
    const within = (count: number): number =>
      Number(one.causes.slice(0, count).some(([causeId]) => one.proven.includes(causeId)));
    this.#first += within(1);
    this.#firstThree += within(3);
    const [proven = null, ...more] = one.proven;
    if (more.length > 0) return;
    this.#single += 1;
    for (const [causeId, chance] of one.causes) this.#bins.add({ chance, held: proven === causeId });
    this.#bins.add({ chance: one.unlisted, held: proven === null });
    // A cause that the ranking lacked counts with those that the book lacks, for both.
    const key = JSON.stringify([one.symptomId, listed(one, proven) ? proven : null]);
    if (one.closedMs < this.#splitMs) {
      this.#times.set(key, (this.#times.get(key) ?? 0) + 1);
      this.#bySymptom.set(one.symptomId ?? '', (this.#bySymptom.get(one.symptomId ?? '') ?? 0) + 1);
    } else if (one.shownMs >= this.#splitMs) {
      this.#scored += 1;
      this.#shown += surprise(shownChance(one));
      this.#frequency += surprise(
        plainFrequency(
          this.#times.get(key) ?? 0,
          this.#bySymptom.get(one.symptomId ?? '') ?? 0,
          one.causes.length + 1,
        ),
      );
    }
  }

  result(): Accuracy {
    return {
      rankings: this.#rankings,
      first: heldOf(this.#first, this.#rankings),
      firstThree: heldOf(this.#firstThree, this.#rankings),
      bins: this.#bins.result(),
      score:
        this.#scored < fewest
          ? null
          : {
              rankings: this.#scored,
              splitMs: this.#splitMs,
              shown: this.#shown / this.#scored,
              frequency: this.#frequency / this.#scored,
            },
      single: this.#single,
    };
  }
}

const listed = (one: Ranked, causeId: string | null): boolean =>
  one.causes.some(([known]) => known === causeId);

/** The same of a list, split where its newest three tenths begin. */
export function accuracyOf(all: readonly Ranked[]): Accuracy {
  const sorted = [...all].sort((a, b) => a.closedMs - b.closedMs);
  const count = new AccuracyCount(
    sorted[Math.floor(sorted.length * (1 - scoredShare))]?.closedMs ?? Number.POSITIVE_INFINITY,
  );
  for (const one of sorted) count.add(one);
  return count.result();
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
