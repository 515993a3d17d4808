import type { Book } from '../book/index.ts';
import {
  AccuracyCount,
  ageBand,
  comebackGroups,
  type GroupCounts,
  groupWords,
  holdingCurves,
  type Life,
  livesWithout,
  mileageBandWords,
  type Ranked,
  type Recurring,
  recurringGroups,
  type SurvivalStep,
  scoredShare,
  sumIntoGroups,
} from '../ledger/index.ts';
import {
  causesInWords,
  countProven,
  countRepairs,
  countVisits,
  type FactFilter,
  type LifeFilter,
  ledgerSpan,
  mileageBand_km,
  minutesByCause,
  newestProven,
  repairLives,
  type StoredDimension,
  type Stretch,
  severalCauses,
  shownAndProven,
} from '../store/index.ts';
import type { CauseId } from '../terms.ts';
import type { CurveStep, OutputOf, ParsedInputOf, RecurringBy } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { adviceFor } from './pattern-advice.ts';
import { checksThatTellNothing, dayWaits, jobsBehind, partsSoon, takenBackCauses } from './pattern-jobs.ts';
import { monthPaper } from './pattern-month.ts';
import { tableFile } from './pattern-tables.ts';
import {
  causesMeant,
  comebackView,
  groupView,
  remarkOn,
  stretchBefore,
  stretchOf,
  stretchView,
  type Titles,
  titlesOf,
} from './pattern-views.ts';
import { overview } from './patterns-overview.ts';
import { stock } from './patterns-stock.ts';
import { trend } from './patterns-trend.ts';
import { readShopSettings } from './settings.ts';

/** Groups that are known of the vehicle: with a cause or symptom picked, they are counted against their own visits. */
const vehicleGroups = ['model', 'family', 'age', 'mileage'] as const;
type VehicleGroup = (typeof vehicleGroups)[number];
const isVehicleGroup = (by: RecurringBy): by is VehicleGroup =>
  (vehicleGroups as readonly string[]).includes(by);

/** A key and title for what the database grouped by. */
function namer(
  by: RecurringBy,
  titles: Titles,
): (key: string | number | null) => [key: string, title: string] {
  const text = (key: string | number | null): string => (key === null ? '' : String(key));
  switch (by) {
    case 'cause':
      return (key) => [text(key), titles.cause(key === null ? null : text(key))];
    case 'symptom':
      return (key) => [text(key), titles.symptom(key === null ? null : text(key))];
    case 'model':
      return (key) => [text(key), titles.model(text(key))];
    case 'family':
      return (key) => [text(key), titles.family(text(key))];
    case 'part-kind':
      return (key) => [text(key), titles.partKind(key === null ? null : text(key))];
    case 'component':
      return (key) => [text(key), key === '' ? 'Not in the book' : titles.component(text(key))];
    case 'age':
      return (key) => {
        if (key === null) return ['', 'Year not known'];
        const band = ageBand(Number(key));
        return [band.key, band.title];
      };
    case 'mileage':
      return (key) => {
        if (key === null) return ['', 'Mileage not known'];
        const band = mileageBandWords(Number(key), mileageBand_km);
        return [band.key, band.title];
      };
    case 'system':
      return (key) => [text(key), key === '' ? 'Not in the book' : text(key)];
    case 'supplier':
      return (key) => [text(key), key === null ? 'Supplier not noted' : text(key)];
  }
}

/** Counts of a stretch under the keys people see. */
async function countsIn(
  db: Desk['db'],
  book: Book,
  by: RecurringBy,
  stretch: Stretch,
  filter: FactFilter,
  nameOf: ReturnType<typeof namer>,
): Promise<Map<string, { title: string; concerns: number }>> {
  const counts = new Map<string, { title: string; concerns: number }>();
  const add = (raw: string | number | null, concerns: number): void => {
    const [key, title] = nameOf(raw);
    counts.set(key, { title, concerns: (counts.get(key)?.concerns ?? 0) + concerns });
  };
  if (by === 'component' || by === 'system') {
    const causes = await countProven(db, stretch, 'cause', filter);
    const rows = causes.map(({ key, concerns }) => ({ key: key === null ? null : String(key), concerns }));
    const sums = sumIntoGroups(rows, await severalCauses(db, stretch, filter), (causeId) => {
      const cause = book.causes.get((causeId ?? '') as CauseId);
      return cause ? (by === 'component' ? cause.componentId : cause.system) : '';
    });
    for (const [key, concerns] of sums) add(key, concerns);
    return counts;
  }
  for (const { key, concerns } of await countProven(db, stretch, by satisfies StoredDimension, filter))
    add(key, concerns);
  return counts;
}

async function visitsIn(
  db: Desk['db'],
  by: VehicleGroup | null,
  stretch: Stretch,
  filter: FactFilter,
  nameOf: ReturnType<typeof namer>,
): Promise<Map<string, number>> {
  const visits = new Map<string, number>();
  for (const row of await countVisits(db, stretch, by, filter)) {
    const key = by === null ? '' : nameOf(row.key)[0];
    visits.set(key, (visits.get(key) ?? 0) + row.visits);
  }
  return visits;
}

async function recurring(
  desk: Desk,
  input: ParsedInputOf<'patterns.recurring'>,
): Promise<OutputOf<'patterns.recurring'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 365);
  const before = stretchBefore(stretch, input.against ?? 'before');
  const { by } = input;
  const nameOf = namer(by, titles);
  const filter: FactFilter = {
    modelId: input.modelId,
    familyId: input.familyId,
    symptomId: input.symptomId,
    causeIds: causesMeant(book, input),
  };
  const isPicked = filter.causeIds !== undefined || filter.symptomId !== undefined;
  const visitsBy = isVehicleGroup(by) && isPicked ? by : null;
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const counts = await countsIn(db, book, by, stretch, filter, nameOf);
    const visits = await visitsIn(db, visitsBy, stretch, filter, nameOf);
    const all = await visitsIn(db, null, stretch, filter, nameOf);
    const old = before ? await countsIn(db, book, by, before, filter, nameOf) : new Map();
    const oldVisits = before
      ? await visitsIn(db, visitsBy, before, filter, nameOf)
      : new Map<string, number>();
    const oldAll = before ? await visitsIn(db, null, before, filter, nameOf) : new Map<string, number>();
    const groups: GroupCounts[] = [...new Set([...counts.keys(), ...old.keys()])].map((key) => ({
      key,
      concerns: counts.get(key)?.concerns ?? 0,
      visits: visits.get(visitsBy ? key : '') ?? 0,
      before: {
        concerns: old.get(key)?.concerns ?? 0,
        visits: oldVisits.get(visitsBy ? key : '') ?? 0,
      },
    }));
    const made = recurringGroups(groups);
    const shown = made.slice(0, input.limit ?? 50);
    const titleOf = (group: Recurring): string =>
      counts.get(group.key)?.title ?? old.get(group.key)?.title ?? group.key;
    const left = made.slice(shown.length);
    return {
      by,
      period: { ...stretchView(stretch, now), visits: all.get('') ?? 0 },
      before: before && { ...stretchView(before, now), visits: oldAll.get('') ?? 0 },
      groups: shown.map((group) => groupView(group, titleOf(group), before !== null)),
      left: { groups: left.length, concerns: left.reduce((sum, group) => sum + group.concerns, 0) },
      per: visitsBy
        ? 'visits of this group'
        : filter.modelId || filter.familyId
          ? 'visits of this machine'
          : 'all visits',
      remark: remarkOn(stretch, span, now.ms),
    };
  });
}

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
