/** A closed job with what was quoted for it and what it took; money in minor units of its currency, before tax. */
export interface QuotedJob {
  readonly jobNumber: number;
  /** The one proven cause of the job; null where it had none, several, or one that the book lacks. */
  readonly causeId: string | null;
  readonly currency: string;
  readonly quotedMinutes: number;
  readonly actualMinutes: number;
  readonly quotedAmount: number;
  readonly actualAmount: number;
}

/** A quarter of the values lies below `low`, half below `median`, three quarters below `high`. */
export interface Quartiles {
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** Of fewer values quartiles say nothing that the values themselves do not. */
export const fewForQuartiles = 8;

/**
 * Quartiles by linear interpolation between the order statistics (definition 7 of Hyndman and Fan, Sample quantiles in
 * statistical packages, The American Statistician 50, 1996).
 * @returns null for fewer than `fewForQuartiles` values
 */
export function quartilesOf(values: readonly number[]): Quartiles | null {
  if (values.length < fewForQuartiles) return null;
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number): number => {
    const place = share * (sorted.length - 1);
    const below = sorted[Math.floor(place)] ?? 0;
    const above = sorted[Math.ceil(place)] ?? below;
    return below + (place - Math.floor(place)) * (above - below);
  };
  return { low: at(0.25), median: at(0.5), high: at(0.75) };
}

export interface QuotedSums {
  readonly jobs: number;
  readonly quotedMinutes: number;
  readonly actualMinutes: number;
  /** Of actual over quoted minutes, job by job; jobs without quoted labor are left out. */
  readonly minutesRatio: Quartiles | null;
  /** Of actual over quoted money; jobs quoted at nothing are left out. */
  readonly moneyRatio: Quartiles | null;
  readonly money: readonly {
    readonly currency: string;
    readonly jobs: number;
    readonly quoted: number;
    readonly actual: number;
  }[];
}

/** Sums and ratios of some jobs; currencies are never added together, the one of most jobs comes first. */
export function sumQuoted(jobs: readonly QuotedJob[]): QuotedSums {
  const sum = (
    of: readonly QuotedJob[],
    field: 'quotedMinutes' | 'actualMinutes' | 'quotedAmount' | 'actualAmount',
  ) => of.reduce((all, job) => all + job[field], 0);
  return {
    jobs: jobs.length,
    quotedMinutes: sum(jobs, 'quotedMinutes'),
    actualMinutes: sum(jobs, 'actualMinutes'),
    minutesRatio: quartilesOf(
      jobs.filter((job) => job.quotedMinutes > 0).map((job) => job.actualMinutes / job.quotedMinutes),
    ),
    moneyRatio: quartilesOf(
      jobs.filter((job) => job.quotedAmount > 0).map((job) => job.actualAmount / job.quotedAmount),
    ),
    money: [...Map.groupBy(jobs, (job) => job.currency)]
      .map(([currency, of]) => ({
        currency,
        jobs: of.length,
        quoted: sum(of, 'quotedAmount'),
        actual: sum(of, 'actualAmount'),
      }))
      .sort((a, b) => b.jobs - a.jobs || a.currency.localeCompare(b.currency)),
  };
}

/** The same by the one proven cause, those that missed by most minutes in all first. */
export function quotedByCause(jobs: readonly QuotedJob[]): ({ readonly causeId: string } & QuotedSums)[] {
  const known = jobs.filter((job): job is QuotedJob & { causeId: string } => job.causeId !== null);
  const missed = ({ actualMinutes, quotedMinutes }: QuotedSums): number =>
    Math.abs(actualMinutes - quotedMinutes);
  return [...Map.groupBy(known, (job) => job.causeId)]
    .map(([causeId, of]) => ({ causeId, ...sumQuoted(of) }))
    .sort((a, b) => missed(b) - missed(a) || a.causeId.localeCompare(b.causeId));
}

/** Jobs furthest from what was quoted, by the money between; currencies in the order of their jobs. */
export function furthestFromQuoted(jobs: readonly QuotedJob[], most: number): QuotedJob[] {
  const order = sumQuoted(jobs).money.map(({ currency }) => currency);
  return jobs
    .toSorted(
      (a, b) =>
        order.indexOf(a.currency) - order.indexOf(b.currency) ||
        Math.abs(b.actualAmount - b.quotedAmount) - Math.abs(a.actualAmount - a.quotedAmount) ||
        b.jobNumber - a.jobNumber,
    )
    .slice(0, most);
}
