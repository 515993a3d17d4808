import { monthAt, monthKey, timesWords } from '../ledger/index.ts';
import { type Fonts, type MonthBar, type MonthFigure, type MonthPaper, monthPdf } from '../paper/index.ts';
import { Problem, quoted } from '../problem.ts';
import { moneyWords } from '../quote/index.ts';
import { fontFolder, ledgerSpan, readFonts, type Stretch, stretchFigures } from '../store/index.ts';
import type { ComebackGroupView, OutputOf, ParsedInputOf, RecurringGroup, RiseView } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import type { Group } from './group.ts';
import { type Instant, toIso } from './instants.ts';
import { remarkOn } from './pattern-views.ts';
import { overview } from './patterns-overview.ts';
import { shelfOf } from './patterns-stock.ts';
import { readQuoteTerms } from './quote-terms.ts';
import { readShopSettings } from './settings.ts';

const fullMonths = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** Year × 12 + month, January 0. */
const fullWords = (month: number): string => `${fullMonths[month % 12]} ${Math.floor(month / 12)}`;
const wordsOfKey = (key: string): string =>
  fullWords(Number(key.slice(0, 4)) * 12 + Number(key.slice(5, 7)) - 1);

/** The month on a clock that is ahead of UTC by so many minutes. */
function stretchOfMonth(month: number, offset: number): Stretch {
  const start = (at: number): number => Date.UTC(Math.floor(at / 12), at % 12, 1) - offset * 60_000;
  return { fromMs: start(month), untilMs: start(month + 1) };
}

function chanceWords(p: number): string {
  if (p < 0.0001) return 'less than 1 in 10,000';
  if (p < 0.01) return `about 1 in ${Math.round(1 / p).toLocaleString('en-US')}`;
  return `${Math.round(p * 100)} in 100`;
}

const count = (value: number): string => value.toLocaleString('en-US');

type Figures = Awaited<ReturnType<typeof stretchFigures>>;

function figureRows(now: Figures, before: Figures | null, yearBefore: Figures | null): MonthFigure[] {
  const outcome = (of: Figures, name: string): number =>
    of.closed.find((row) => row.outcome === name)?.concerns ?? 0;
  const all = (of: Figures): number => of.closed.reduce((sum, row) => sum + row.concerns, 0);
  const state = (of: Figures, name: string): number =>
    of.returned.find((row) => row.state === name)?.all ?? 0;
  const minutes = (of: Figures): string => {
    const timed = of.closed.reduce((sum, row) => sum + row.timed, 0);
    const sum = of.closed.reduce((total, row) => total + row.minutes, 0);
    return timed === 0 ? '–' : `${Math.round(sum / timed)} min`;
  };
  const rows: [string, (of: Figures) => string][] = [
    ['Jobs taken in', (of) => count(of.opened)],
    ['Visits with a closed concern', (of) => count(of.visits)],
    ['Concerns closed', (of) => count(all(of))],
    ['… with a proven cause', (of) => count(outcome(of, 'proven'))],
    ['… not reproduced', (of) => count(outcome(of, 'not-reproduced'))],
    ['… normal behavior or handling', (of) => count(outcome(of, 'normal') + outcome(of, 'handling'))],
    ['Minutes to the proven cause, mean', minutes],
    ['Came back: repair did not hold', (of) => count(state(of, 'diagnosis-stands'))],
    ['Came back: it was another cause', (of) => count(state(of, 'diagnosis-taken-back'))],
    ['Came back: in doubt', (of) => count(state(of, 'in-doubt'))],
  ];
  return rows.map(([title, of]) => ({
    title,
    now: of(now),
    before: before && of(before),
    yearBefore: yearBefore && of(yearBefore),
  }));
}

function riseLines(rise: RiseView): { title: string; lines: string[] } {
  const { now, before, change, months } = rise;
  const often = change.ratio === null ? '' : `, ${timesWords(change.ratio)} as often`;
  const fitted = rise.parts
    .slice(0, 3)
    .map((part) => `${part.fitted} × ${part.title}${part.supplier ? ` from ${part.supplier}` : ''}`);
  return {
    title: `${rise.cause}${rise.model === null ? ' on all models' : ` on ${rise.model}`}`,
    lines: [
      `${count(now.concerns)} of ${count(now.visits)} visits in the 90 days, before ${count(before.concerns)} of ${count(before.visits)}${often}.`,
      ...(months === null
        ? []
        : [
            months.from === months.until
              ? `Mostly in ${wordsOfKey(months.from)}.`
              : `Mostly from ${wordsOfKey(months.from)} to ${wordsOfKey(months.until)}.`,
          ]),
      ...(fitted.length === 0 ? [] : [`Fitted: ${fitted.join('; ')}.`]),
      `Jobs: ${rise.jobNumbers.join(', ')}.`,
      `By chance: ${chanceWords(change.falseShare)}, season and number of looks allowed for.`,
    ],
  };
}

const backLines = (group: ComebackGroupView): { title: string; lines: string[] } => ({
  title: group.title,
  lines: [group.says, `By chance: ${chanceWords(group.falseShare)}, number of looks allowed for.`],
});

function changeWords(change: RecurringGroup['change']): string {
  if (!change || change.falseShare > 0.05) return 'within chance';
  if (change.ratio === null) return 'new';
  return change.ratio === 0 ? 'gone' : timesWords(change.ratio);
}

const barOf = (group: RecurringGroup): MonthBar => ({
  title: group.title,
  concerns: group.concerns,
  before: group.before?.concerns ?? null,
  cumulative: group.cumulative,
  change: changeWords(group.change),
});

/** The month that is asked for, or the last whole one; refused where it has not begun. */
function monthOf(asked: string | undefined, now: Instant): number {
  const present = monthAt(now.ms, now.offset);
  if (asked === undefined) return present - 1;
  const month = Number(asked.slice(0, 4)) * 12 + Number(asked.slice(5, 7)) - 1;
  if (month > present)
    throw new Problem('bad-input', `month: ${quoted(asked)} has not begun yet.`, { field: 'month' });
  return month;
}

/** One month of the shop as a PDF file. */
export async function monthPaper(
  recurring: Group<'patterns.'>['patterns.recurring'],
  desk: Desk,
  input: ParsedInputOf<'patterns.monthPaper'>,
): Promise<OutputOf<'patterns.monthPaper'>> {
  const { book } = await desk.book();
  const now = desk.now();
  const month = monthOf(input.month, now);
  const stretch = stretchOfMonth(month, now.offset);
  const isOver = stretch.untilMs <= now.ms;
  const until: Stretch = { ...stretch, untilMs: Math.min(stretch.untilMs, now.ms) };
  const at: Instant = { ms: until.untilMs, offset: now.offset };
  const period = {
    from: toIso(Math.max(0, until.fromMs), now.offset),
    until: toIso(Math.max(1000, until.untilMs), now.offset),
    against: 'before',
  } as const;
  const loaded = await inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const figuresOf = async (other: number): Promise<Figures | null> => {
      const figures = await stretchFigures(db, stretchOfMonth(other, now.offset));
      return figures.visits === 0 && figures.opened === 0 ? null : figures;
    };
    return {
      span,
      settings: await readShopSettings(db),
      terms: await readQuoteTerms(db),
      shelf: await shelfOf(db, book, now, {}),
      now: await stretchFigures(db, until),
      before: await figuresOf(month - 1),
      yearBefore: await figuresOf(month - 12),
    };
  });
  const over = await overview(desk, { days: 90 }, at);
  const causes = await recurring(desk, { by: 'cause', ...period, limit: 15 });
  const models = await recurring(desk, { by: 'model', ...period, limit: 10 });
  const buy = loaded.shelf.rows.filter((row) => row.order > 0);
  const remark = remarkOn(until, loaded.span, now.ms);
  const bars = (groups: readonly RecurringGroup[]): MonthBar[] =>
    groups.filter((group) => group.concerns > 0).map(barOf);
  const paper: MonthPaper = {
    shopName: loaded.settings.shopName,
    month: fullWords(month),
    remarks: [
      ...(isOver ? [] : ['This month is not over yet: it is counted up to now.']),
      ...(remark === null ? [] : [remark]),
    ],
    figures: figureRows(loaded.now, loaded.before, loaded.yearBefore),
    rises: over.changed.map(riseLines),
    risesOver: `The 90 days up to the end of the month (${count(over.period.visits)} visits) against all before (${count(over.before.visits)} visits). ${count(over.asked)} causes and pairs of cause and model were looked at; ${count(over.tested)} had enough jobs to show anything.`,
    cameBack: over.cameBack.groups.map(backLines),
    cameBackOver: `${count(over.cameBack.repairs)} proven repairs in the three years up to the end of the month: ${count(over.cameBack.didNotHold)} did not hold, ${count(over.cameBack.wrongDiagnosis)} had another cause, ${count(over.cameBack.inDoubt)} in doubt.`,
    causes: bars(causes.groups),
    models: bars(models.groups),
    buy: buy.map((row) => ({
      title: row.title,
      order: row.order,
      free: row.onHand - row.reserved + row.onOrder,
      usedInYear: row.usedInYear,
      cost: row.cost ? moneyWords(row.cost) : 'no price',
    })),
    buyOver: `As of the day of printing, whatever the month: to have each in ${Math.round(loaded.shelf.terms.service * 100)} of 100 cases until an order comes (${loaded.shelf.terms.leadDays} days), from the use of the last year. Free: on hand and on order, without what is reserved. Typical prices of the book.`,
    madeAt: new Date(now.ms),
    printed: toIso(now.ms, now.offset).slice(0, 16).replace('T', ' at '),
  };
  const fonts: Fonts = readFonts(fontFolder(desk.options.seedFolder));
  const bytes = await monthPdf(paper, fonts, input.paper ?? loaded.terms.paper);
  return {
    fileName: `month-${monthKey(month)}.pdf`,
    base64: Buffer.from(bytes).toString('base64'),
    bytes: bytes.length,
  };
}
