import type { Book, Cause } from '../book/index.ts';
import type { CauseId } from '../terms.ts';
import type { ScopeCounts } from './cause-shares.ts';
import { type CausePair, type Contradiction, findContradiction, findPairs } from './contradiction.ts';
import { type ApartCounts, type Diagnosis, diagnose, type RankInput } from './diagnose.ts';
import { dirichletIntervals, type Interval, intervalsAfterReadings } from './share-intervals.ts';

export interface RankedCause {
  readonly causeId: CauseId;
  readonly title: string;
  readonly component: string;
  readonly probability: number;
  /** 90 % interval. */
  readonly low: number;
  readonly high: number;
  /** Whole concerns that proved it. */
  readonly confirmed: ScopeCounts;
  readonly of: ScopeCounts;
  /** Labor of the repair. */
  readonly minutes: number;
  readonly repair: string;
  readonly shows: string;
  readonly doNotRide: boolean;
}

export interface Ranking {
  /** Likeliest first; with `unlisted` they sum to 1. */
  readonly causes: RankedCause[];
  readonly unlisted: number;
  readonly pairs?: CausePair[];
  readonly contradiction?: Contradiction;
  readonly apart: ApartCounts;
  readonly from: string;
  readonly bookVersion: string;
}

/**
 * Ranks the causes of a symptom by book, closed jobs and readings. Probabilities are 0 to 1 and sum to 1 with the
 * unlisted share; intervals hold 90 %: beta quantiles before readings, seeded draws through the likelihood after.
 * Throws `not-found` for an unknown symptom and `bad-input` naming the reading.
 * Sources: Minka 2000; de Kleer and Williams 1987; written out in METHOD.md.
 */
export function rankCauses(input: RankInput): Ranking {
  const diagnosis = diagnose(input);
  return rankingOf(diagnosis, input);
}

export function rankingOf(diagnosis: Diagnosis, input: Pick<RankInput, 'apart' | 'seed'>): Ranking {
  const { book, causes, shares, evidence, probabilities } = diagnosis;
  const hasEvidence = evidence.facts.length > 0;
  const intervals = hasEvidence
    ? intervalsAfterReadings(shares.alphas, evidence.likelihood, input.seed ?? 1)
    : dirichletIntervals(shares.alphas);
  const order = causes
    .map((_, k) => k)
    .sort((a, b) => (probabilities[b] as number) - (probabilities[a] as number) || a - b);
  const ranked = order.map((k): RankedCause => {
    const cause = causes[k] as Cause;
    const probability = probabilities[k] as number;
    const interval = intervals[k] as Interval;
    return {
      causeId: cause.id,
      title: cause.title,
      component: book.components.get(cause.componentId)?.title ?? cause.componentId,
      probability,
      // Skewed shares can put their mean outside of the 90 % interval; the interval shown always holds the value shown.
      low: Math.max(0, Math.min(interval.low, probability)),
      high: Math.min(1, Math.max(interval.high, probability)),
      confirmed: shares.confirmed[k] as ScopeCounts,
      of: shares.of,
      minutes: cause.repair.minutes,
      repair: cause.repair.title,
      shows: cause.shows,
      doNotRide: mustNotRide(book, cause),
    };
  });
  const contradiction = findContradiction(evidence, causes);
  const pairs = contradiction
    ? findPairs(evidence, causes, normalizedShares(shares.alphas), diagnosis.wiring)
    : [];
  return {
    causes: ranked,
    unlisted: Math.max(0, 1 - ranked.reduce((sum, one) => sum + one.probability, 0)),
    ...(pairs.length > 0 ? { pairs } : {}),
    ...(contradiction ? { contradiction } : {}),
    apart: input.apart ?? { notReproduced: 0, normal: 0, handling: 0 },
    from: fromWords(shares.of, diagnosis.model !== null),
    bookVersion: book.version,
  };
}

function mustNotRide(book: Book, cause: Cause): boolean {
  return cause.cautionIds.some((id) => book.cautions.get(id)?.doNotRide === true);
}

function normalizedShares(alphas: Float64Array): Float64Array {
  const total = alphas.reduce((sum, alpha) => sum + alpha, 0);
  return alphas.map((alpha) => alpha / total);
}

function fromWords(of: ScopeCounts, isModelKnown: boolean): string {
  const jobs = (count: number): string => (count === 1 ? '1 of our jobs' : `${count} of our jobs`);
  if (of.all === 0) return 'from the book, 0 of our jobs';
  if (!isModelKnown) return `from the book and ${jobs(of.all)}`;
  return `from the book and ${jobs(of.all)}, ${of.model} of them on this model`;
}
