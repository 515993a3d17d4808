import type { Book } from '../book/index.ts';
import {
  comebackGroups,
  findRises,
  type MonthsOut,
  monthAt,
  monthKey,
  monthStart,
  monthsWords,
  ofVisits,
  type Rise,
  recurringGroups,
  standingOut,
  timesWords,
} from '../ledger/index.ts';
import {
  causeByMonth,
  causePairs,
  closingsOf,
  countRepairs,
  ledgerSpan,
  partsOfConcerns,
  type Stretch,
  visitsByMonth,
} from '../store/index.ts';
import type { CauseId } from '../terms.ts';
import type { OutputOf, ParsedInputOf, RiseView } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import {
  comebackView,
  groupView,
  remarkOn,
  stretchOf,
  stretchView,
  type Titles,
  titlesOf,
} from './pattern-views.ts';
import { shelfOf } from './patterns-stock.ts';

/** Of the groups that are named as coming back, at most this share is chance. */
const falseShareAllowed = 0.05;
const comebackMonths = 36;
/** What was fitted is told from the newest of these. */
const closingsShown = 300;
const none = { repairs: 0, didNotHold: 0, wrongDiagnosis: 0, inDoubt: 0 };

async function riseView(
  db: Desk['db'],
  book: Book,
  titles: Titles,
  stretch: Stretch,
  rise: Rise & { readonly months: MonthsOut | null },
): Promise<RiseView> {
  // So many closings of these machines hold as many of the cause as are looked at.
  const looked = Math.min(rise.now.visits, (closingsShown * rise.now.visits) / rise.now.concerns);
  const ofCause = (rise.now.concerns + rise.before.concerns) * (rise.modelId === undefined ? 1 : 10);
  const closings = await closingsOf(db, stretch, rise.causeId, rise.modelId, closingsShown, ofCause < looked);
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
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const earlier = {
      fromMs: Math.min(span?.firstMs ?? stretch.fromMs, stretch.fromMs),
      untilMs: stretch.fromMs,
    };
    desk.pace.tell(0.1, 'Counting causes by month');
    const visits = await visitsByMonth(db, stretch);
    const pairs = await causePairs(db, stretch);
    const found = findRises(pairs, visits);
    const changed: RiseView[] = [];
    for (const rise of found.rises.slice(0, 10)) {
      desk.pace.tell(0.3 + 0.04 * changed.length, 'Looking at what rose');
      await desk.pace.breathe();
      const seen = visits.filter((cell) => rise.modelId === undefined || cell.modelId === rise.modelId);
      const months = standingOut(rise.season, [
        ...(await causeByMonth(db, whole, rise.causeId, rise.modelId)).map((row) => ({ ...row, visits: 0 })),
        ...seen.map(({ month, visits: n }) => ({ month, visits: n, concerns: 0 })),
      ]);
      changed.push(await riseView(db, book, titles, stretch, { ...rise, months }));
    }
    const sumVisits = (isLate: boolean): number =>
      visits.filter((cell) => cell.isLate === isLate).reduce((sum, cell) => sum + cell.visits, 0);

    desk.pace.tell(0.7, 'Counting what came back');
    await desk.pace.breathe();
    // From a day before a month begins, on whatever clock: whole months are counted already.
    const first = monthAt(now.ms, now.offset) - comebackMonths;
    const backStretch = { fromMs: monthStart(first, now.offset) - 86_400_000, untilMs: now.ms };
    const [back = none] = await countRepairs(db, backStretch, 'all');
    const groups = comebackGroups(
      await countRepairs(db, backStretch, 'part-kind-and-supplier'),
      'part-kind-and-supplier',
      back,
    );

    desk.pace.tell(0.8, 'Looking at the shelf');
    await desk.pace.breathe();
    const { rows } = await shelfOf(db, book, now, {});
    const top = recurringGroups(
      [...Map.groupBy(pairs, (pair) => pair.causeId)].map(([causeId, ofCause]) => ({
        key: causeId ?? '',
        concerns: ofCause.reduce((sum, pair) => sum + pair.now, 0),
        visits: sumVisits(true),
        before: {
          concerns: ofCause.reduce((sum, pair) => pair.before.reduce((all, n) => all + n, sum), 0),
          visits: sumVisits(false),
        },
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
        repairs: back.repairs,
        didNotHold: back.didNotHold,
        wrongDiagnosis: back.wrongDiagnosis,
        inDoubt: back.inDoubt,
        groups: groups
          .filter((group) => group.falseShare <= falseShareAllowed)
          .map((group) => comebackView(titles, 'part-kind-and-supplier', group)),
      },
      buy: rows.filter((row) => row.order > 0).slice(0, 15),
      top: top.slice(0, 12).map((group) => groupView(group, titles.cause(group.key), null, true)),
      remark: remarkOn(stretch, span, now.ms),
    };
  });
}
