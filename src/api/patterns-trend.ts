import { laplaceTrend, monthAt, monthKey, monthSeries, monthWords, powerLaw } from '../ledger/index.ts';
import { closedMoments, countProven, countVisits, ledgerSpan } from '../store/index.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import { causesMeant, remarkOn, titlesOf } from './pattern-views.ts';

/** More closings than these a trend test does not need. */
const mostClosings = 100_000;
const msOfDay = 86_400_000;

/** The first moment of a month (year × 12 + month) on a clock ahead of UTC by so many minutes. */
const monthStart = (month: number, offsetMinutes: number): number =>
  Date.UTC(Math.floor(month / 12), month % 12, 1) - offsetMinutes * 60_000;

/** Months of the ledger as a chart with limits, and whether the closings come closer together. */
export async function trend(
  desk: Desk,
  input: ParsedInputOf<'patterns.trend'>,
): Promise<OutputOf<'patterns.trend'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const thisMonth = monthAt(now.ms, now.offset);
  const filter = {
    modelId: input.modelId,
    familyId: input.familyId,
    causeIds: causesMeant(book, input),
  };
  return desk.db.transaction().execute(async (db) => {
    const span = await ledgerSpan(db);
    const oldest = span ? monthAt(span.firstMs, now.offset) : thisMonth;
    const first = Math.max(oldest, thisMonth - (input.months ?? 36) + 1);
    const months = [];
    for (let month = first; month <= thisMonth; month += 1) {
      const stretch = {
        fromMs: monthStart(month, now.offset),
        untilMs: Math.min(monthStart(month + 1, now.offset), now.ms + 1),
      };
      const [visits] = await countVisits(db, stretch, null, filter);
      const closings = await countProven(db, stretch, null, filter);
      months.push({
        month,
        concerns: closings[0]?.concerns ?? 0,
        visits: visits?.visits ?? 0,
        isPartial: month === thisMonth || (span !== null && stretch.fromMs < span.firstMs),
      });
    }
    const series = monthSeries(months);
    const fromMs = Math.max(monthStart(first, now.offset), span?.firstMs ?? 0);
    const moments = await closedMoments(db, { fromMs, untilMs: now.ms + 1 }, filter, mostClosings);
    const watched = {
      times: moments.map((ms) => (ms - fromMs) / msOfDay + 1e-6),
      until: (now.ms - fromMs) / msOfDay + 1e-6,
    };
    const fit = powerLaw(watched);
    const what = [
      input.causeId !== undefined
        ? titles.cause(input.causeId)
        : input.componentId !== undefined
          ? titles.component(input.componentId)
          : 'All proven causes',
      ...(input.modelId === undefined ? [] : [`on ${titles.model(input.modelId)}`]),
      ...(input.familyId === undefined ? [] : [`on ${titles.family(input.familyId)}`]),
    ].join(' ');
    const out = series.months.filter((month) => month.isOut);
    const says = !series.hasLimits
      ? 'Too few a month for limits: read the counts.'
      : out.length === 0
        ? 'Every whole month lies within the limits of chance.'
        : `Outside of the limits of chance: ${out.map((month) => monthWords(month.month)).join(', ')}.`;
    return {
      title: what,
      months: series.months.map((month) => ({ ...month, month: monthKey(month.month) })),
      center: series.center,
      hasLimits: series.hasLimits,
      laplace: laplaceTrend(watched),
      powerLaw: fit && { shape: fit.shape, p: Math.min(1, fit.p) },
      halves: series.halves && {
        newer: series.halves.newer,
        older: series.halves.older,
        change: {
          ratio: series.halves.comparison.ratio,
          low: series.halves.comparison.low,
          high: series.halves.comparison.high,
          p: series.halves.comparison.p,
          falseShare: series.halves.comparison.p,
        },
      },
      says,
      remark: remarkOn({ fromMs, untilMs: now.ms }, span, now.ms),
    };
  });
}
