import {
  monthAt,
  monthKey,
  monthSeries,
  monthStart,
  monthWords,
  TrendCount,
  throughYear,
} from '../ledger/index.ts';
import {
  closedMoments,
  countProvenMonths,
  countVisitsMonths,
  type KeyedCount,
  ledgerSpan,
} from '../store/index.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import { causesMeant, remarkOn, titlesOf } from './pattern-views.ts';

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
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const oldest = span ? monthAt(span.firstMs, now.offset) : thisMonth;
    const first = Math.max(oldest, thisMonth - (input.months ?? 36) + 1);
    const range = { from: first, until: thisMonth };
    const countOf = (rows: readonly KeyedCount[]) => new Map(rows.map((row) => [Number(row.key), row.count]));
    const concerns = countOf(await countProvenMonths(db, range, 'month', filter));
    const visits = countOf(await countVisitsMonths(db, range, 'month', filter));
    const months = Array.from({ length: thisMonth - first + 1 }, (_, place) => {
      const month = first + place;
      const isBegun = span !== null && monthStart(month, now.offset) < span.firstMs;
      return {
        month,
        concerns: concerns.get(month) ?? 0,
        visits: visits.get(month) ?? 0,
        isPartial: month === thisMonth || isBegun,
      };
    });
    const series = monthSeries(months);
    // Events stand on the count of visits, not on the calendar: a shop that grows is no trend of a cause.
    const count = new TrendCount(months.reduce((sum, month) => sum + month.visits, 0));
    const fromMs = Math.max(monthStart(first, now.offset), span?.firstMs ?? 0);
    // A few causes are read at once; all of them month by month, so that a large ledger is never in memory as a whole.
    const ofMonth = filter.causeIds
      ? Map.groupBy(await closedMoments(db, { fromMs, untilMs: now.ms + 1 }, filter), (ms) =>
          monthAt(ms, now.offset),
        )
      : null;
    let before = 0;
    for (const { month, visits: seen } of months) {
      desk.pace.tell((month - first) / months.length, monthWords(month));
      await desk.pace.breathe();
      const start = Math.max(fromMs, monthStart(month, now.offset));
      const end = Math.min(monthStart(month + 1, now.offset), now.ms + 1);
      if (seen > 0 && end > start)
        for (const ms of ofMonth
          ? (ofMonth.get(month) ?? [])
          : await closedMoments(db, { fromMs: start, untilMs: end }, filter))
          count.add(before + (seen * (ms - start)) / (end - start));
      before += seen;
    }
    const { laplace, powerLaw } = count.result();
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
      year: throughYear(months),
      center: series.center,
      hasLimits: series.hasLimits,
      laplace,
      powerLaw: powerLaw && { shape: powerLaw.shape, p: Math.min(1, powerLaw.p) },
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
