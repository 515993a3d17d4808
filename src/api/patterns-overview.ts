import type { Book } from '../book/index.ts';
import {
  comebackGroups,
  findRises,
  monthKey,
  monthsWords,
  ofVisits,
  type Rise,
  recurringGroups,
  timesWords,
} from '../ledger/index.ts';
import {
  closingsOf,
  countProven,
  countVisits,
  ledgerSpan,
  monthlyCauses,
  monthlyVisits,
  partsOfConcerns,
  type Stretch,
} from '../store/index.ts';
import type { CauseId } from '../terms.ts';
import type { OutputOf, ParsedInputOf, RiseView } from './contract.ts';
import type { Desk } from './desk.ts';
import {
  comebackView,
  groupView,
  loadRepairs,
  remarkOn,
  stretchBefore,
  stretchOf,
  stretchView,
  type Titles,
  titlesOf,
} from './pattern-views.ts';
import { shelfOf } from './patterns-stock.ts';

/** Of the groups that are named as coming back, at most this share is chance. */
const falseShareAllowed = 0.05;
const comebackDaysLookedAt = 3 * 365;

async function riseView(
  db: Desk['db'],
  book: Book,
  titles: Titles,
  stretch: Stretch,
  rise: Rise,
): Promise<RiseView> {
  const closings = await closingsOf(db, stretch, rise.causeId, rise.modelId ?? undefined, 500);
  const fitted = await partsOfConcerns(
    db,
    closings.map((closing) => closing.concernId),
  );
  const parts = [
    ...Map.groupBy(fitted, (part) => JSON.stringify([part.kind ?? part.description, part.supplier])).values(),
  ]
    .map((group) => ({
      title: group[0]?.kind ? titles.partKind(group[0].kind) : (group[0]?.description ?? ''),
      supplier: group[0]?.supplier ?? null,
      fitted: group.length,
    }))
    .sort((a, b) => b.fitted - a.fitted);
  const cause = book.causes.get((rise.causeId ?? '') as CauseId);
  const model = rise.modelId === undefined ? null : titles.model(rise.modelId);
  const { comparison, months } = rise;
  const times = comparison.ratio === null ? '' : `, ${timesWords(comparison.ratio)} as often`;
  const when = months ? ` Mostly ${monthsWords(months.from, months.until)}.` : '';
  return {
    causeId: rise.causeId,
    cause: titles.cause(rise.causeId),
    component: cause ? titles.component(cause.componentId) : null,
    modelId: rise.modelId ?? null,
    model,
    now: rise.now,
    before: rise.before,
    change: {
      ratio: comparison.ratio,
      low: comparison.low,
      high: comparison.high,
      p: Math.min(1, comparison.pRise),
      falseShare: Math.min(1, rise.falseShare),
    },
    months: months && {
      from: monthKey(months.from),
      until: monthKey(months.until),
      concerns: months.concerns,
    },
    parts,
    jobNumbers: closings.slice(0, 20).map((closing) => closing.jobNumber),
    says: `${titles.cause(rise.causeId)}${model === null ? '' : ` on ${model}`}: ${ofVisits(rise.now)}, before ${ofVisits(rise.before)}${times}.${when}`,
  };
}

/** What changed, what came back, what to buy: one answer from one snapshot, as of now or of an earlier moment. */
export async function overview(
  desk: Desk,
  input: ParsedInputOf<'patterns.overview'>,
  now = desk.now(),
): Promise<OutputOf<'patterns.overview'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const stretch = stretchOf({ days: input.days }, now, 90);
  const whole = { fromMs: 0, untilMs: stretch.untilMs };
  return desk.db.transaction().execute(async (db) => {
    const span = await ledgerSpan(db);
    const earlier = {
      fromMs: Math.min(span?.firstMs ?? stretch.fromMs, stretch.fromMs),
      untilMs: stretch.fromMs,
    };
    const visits = await monthlyVisits(db, whole, stretch.fromMs);
    const found = findRises(await monthlyCauses(db, whole, stretch.fromMs), visits);
    const changed: RiseView[] = [];
    for (const rise of found.rises.slice(0, 10))
      changed.push(await riseView(db, book, titles, stretch, rise));
    const sumVisits = (isLate: boolean): number =>
      visits.filter((cell) => cell.isLate === isLate).reduce((sum, cell) => sum + cell.visits, 0);

    const backStretch = { fromMs: now.ms - comebackDaysLookedAt * 86_400_000, untilMs: now.ms };
    const repairs = await loadRepairs(db, backStretch);
    const groups = comebackGroups(repairs, 'part-kind-and-supplier');
    const state = (name: string): number => repairs.filter((repair) => repair.back?.state === name).length;

    const { rows } = await shelfOf(db, book, now, {});
    const previous = stretchBefore(stretch, 'before') as Stretch;
    const counts = await countProven(db, stretch, 'cause');
    const old = new Map((await countProven(db, previous, 'cause')).map((row) => [row.key, row.concerns]));
    const [oldVisits] = await countVisits(db, previous, null);
    const top = recurringGroups(
      counts.map(({ key, concerns }) => ({
        key: key === null ? '' : String(key),
        concerns,
        visits: sumVisits(true),
        before: { concerns: old.get(key) ?? 0, visits: oldVisits?.visits ?? 0 },
      })),
    );
    return {
      period: { ...stretchView(stretch, now), visits: sumVisits(true) },
      before: { ...stretchView(earlier, now), visits: sumVisits(false) },
      changed,
      asked: found.asked,
      tested: found.tested,
      cameBack: {
        period: stretchView(backStretch, now),
        repairs: repairs.length,
        didNotHold: state('diagnosis-stands'),
        wrongDiagnosis: state('diagnosis-taken-back'),
        inDoubt: state('in-doubt'),
        groups: groups
          .filter((group) => group.falseShare <= falseShareAllowed)
          .map((group) => comebackView(titles, 'part-kind-and-supplier', group)),
      },
      buy: rows.filter((row) => row.order > 0).slice(0, 15),
      top: top.slice(0, 12).map((group) => groupView(group, titles.cause(group.key), true)),
      remark: remarkOn(stretch, span, now.ms),
    };
  });
}
