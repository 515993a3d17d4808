import {
  AccuracyCount,
  comebackGroups,
  groupWords,
  holdingCurves,
  type Life,
  livesWithout,
  type Ranked,
  type SurvivalStep,
  scoredShare,
} from '../ledger/index.ts';
import {
  causesInWords,
  countRepairs,
  type LifeFilter,
  ledgerSpan,
  minutesByCause,
  newestProven,
  repairLives,
  shownAndProven,
} from '../store/index.ts';
import type { CurveStep, OutputOf, ParsedInputOf } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { adviceFor } from './pattern-advice.ts';
import { checksThatTellNothing, dayWaits, jobsBehind, partsSoon, takenBackCauses } from './pattern-jobs.ts';
import { monthPaper } from './pattern-month.ts';
import { quotedReport } from './pattern-quoted.ts';
import { tableFile } from './pattern-tables.ts';
import { comebackView, remarkOn, stretchOf, stretchView, titlesOf } from './pattern-views.ts';
import { overview } from './patterns-overview.ts';
import { recurring } from './patterns-recurring.ts';
import { stock } from './patterns-stock.ts';
import { trend } from './patterns-trend.ts';
import { readShopSettings } from './settings.ts';

const stepView = (step: SurvivalStep): CurveStep => ({
  days: step.time,
  atRisk: step.atRisk,
  events: step.events,
  lasts: step.lasts,
  error: step.error,
});

async function comebacks(
  desk: Desk,
  input: ParsedInputOf<'patterns.comebacks'>,
): Promise<OutputOf<'patterns.comebacks'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 3 * 365);
  const by = input.by ?? 'part-kind-and-supplier';
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const { comebackDays } = await readShopSettings(db);
    const [all = none] = await countRepairs(db, stretch, 'all');
    const groups = comebackGroups(await countRepairs(db, stretch, by), by, all);
    desk.pace.tell(0.4, 'Following the repairs');
    await desk.pace.breathe();
    const { supplier, partKind, causeId } = input;
    const livesOf = (filter: LifeFilter) => repairLives(db, stretch, filter, now.ms, comebackDays);
    const isFiltered = supplier !== undefined || partKind !== undefined || causeId !== undefined;
    const chosen = await livesOf({ supplier, partKind, causeId });
    desk.pace.tell(0.7, 'Following the others');
    await desk.pace.breathe();
    // With a supplier: the same kind of part from others; else all other repairs.
    const others = isFiltered
      ? livesWithout(await livesOf(supplier === undefined ? {} : { partKind, causeId }), chosen)
      : [];
    const curves = holdingCurves(chosen, others);
    const lived = (lives: readonly Life[]): number => lives.reduce((sum, life) => sum + (life.count ?? 1), 0);
    const what =
      input.partKind !== undefined
        ? titles.partKind(input.partKind)
        : input.causeId !== undefined
          ? titles.cause(input.causeId)
          : 'All repairs';
    return {
      by,
      period: stretchView(stretch, now),
      windowDays: comebackDays,
      repairs: all.repairs,
      didNotHold: all.didNotHold,
      wrongDiagnosis: all.wrongDiagnosis,
      inDoubt: all.inDoubt,
      groups: groups.slice(0, input.limit ?? 50).map((group) => comebackView(titles, by, group)),
      curves: {
        title: input.supplier === undefined ? what : `${what} from ${input.supplier}`,
        restTitle:
          others.length === 0
            ? null
            : input.supplier === undefined
              ? 'all other repairs'
              : `${what} from others`,
        chosen: curves.chosen.map(stepView),
        chosenRepairs: lived(chosen),
        rest: curves.rest.map(stepView),
        restRepairs: lived(others),
        compared: curves.compared,
      },
      remark: remarkOn(stretch, span, now.ms),
    };
  });
}

const none = { repairs: 0, didNotHold: 0, wrongDiagnosis: 0, inDoubt: 0 };

/** More rankings than these say no more about the book, and take time to read. */
const mostRankings = 20_000;

function rankedOf(text: string): Pick<Ranked, 'causes' | 'unlisted'> {
  const kept = JSON.parse(text) as Pick<Ranked, 'causes' | 'unlisted'>;
  return { causes: kept.causes.toSorted((a, b) => b[1] - a[1]), unlisted: kept.unlisted };
}

async function accuracy(
  desk: Desk,
  input: ParsedInputOf<'patterns.accuracy'>,
): Promise<OutputOf<'patterns.accuracy'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 3 * 365);
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const newest = await newestProven(db, stretch, mostRankings, scoredShare);
    const judged = { ...stretch, fromMs: newest.fromMs };
    const count = new AccuracyCount(newest.splitMs);
    let read = 0;
    for await (const { rows, causes } of shownAndProven(db, judged)) {
      const causesOf = Map.groupBy(causes, (row) => row.concern_id);
      for (const row of rows)
        if (row.ranking !== null)
          count.add({
            closedMs: row.closedMs ?? 0,
            shownMs: row.shownMs ?? row.closedMs ?? 0,
            symptomId: row.symptomId,
            proven: (causesOf.get(row.id) ?? []).map((cause) => cause.cause_id),
            ...rankedOf(row.ranking),
          });
      read += rows.length;
      desk.pace.tell((0.9 * read) / newest.concerns, `${read} of ${newest.concerns} rankings`);
      await desk.pace.breathe();
    }
    const found = count.result();
    const byCause = await minutesByCause(db, judged);
    const sum = (field: 'concerns' | 'planned' | 'actual'): number =>
      byCause.reduce((all, row) => all + row[field], 0);
    const said = await causesInWords(db, judged);
    const remark = remarkOn(stretch, span, now.ms);
    return {
      period: stretchView(stretch, now),
      rankings: found.rankings,
      first: found.first,
      firstThree: found.firstThree,
      bins: [...found.bins],
      score: found.score && {
        rankings: found.score.rankings,
        since: toIso(found.score.splitMs, now.offset),
        shown: found.score.shown,
        frequency: found.score.frequency,
      },
      minutes: {
        concerns: sum('concerns'),
        planned: sum('planned'),
        actual: sum('actual'),
        causes: byCause
          .toSorted((a, b) => Math.abs(b.actual - b.planned) - Math.abs(a.actual - a.planned))
          .slice(0, 20)
          .map((row) => ({
            causeId: row.causeId,
            cause: titles.cause(row.causeId),
            concerns: row.concerns,
            planned: row.planned / row.concerns,
            actual: row.actual / row.concerns,
          })),
      },
      lacking: groupWords(said.map(({ words, jobNumber }) => ({ words: words ?? '', jobNumber })))
        .slice(0, 50)
        .map((group) => ({ ...group, jobNumbers: [...group.jobNumbers] })),
      remark:
        remark ??
        (!newest.isAll
          ? `Counted from the newest ${mostRankings.toLocaleString('en-US')} repairs.`
          : found.rankings === 0
            ? 'No ranking was shown for a job that closed in this period, so there is nothing to judge yet.'
            : null),
    };
  });
}

const reports = {
  'patterns.overview': async (desk, input) => overview(desk, input),
  'patterns.recurring': recurring,
  'patterns.trend': trend,
  'patterns.comebacks': comebacks,
  'patterns.stock': stock,
  'patterns.accuracy': accuracy,
  'patterns.quoted': quotedReport,
  'patterns.jobs': jobsBehind,
  'patterns.takenBack': takenBackCauses,
  'patterns.checks': checksThatTellNothing,
  'patterns.soon': partsSoon,
  'patterns.day': dayWaits,
  'patterns.advice': adviceFor,
} satisfies Partial<Group<'patterns.'>>;

export const patterns: Group<'patterns.'> = {
  ...reports,
  'patterns.table': async (desk, input) => tableFile(reports, desk, input),
  'patterns.monthPaper': async (desk, input) => monthPaper(recurring, desk, input),
};
