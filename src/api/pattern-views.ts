import type { Book } from '../book/index.ts';
import type { ComebackGroup, Recurring } from '../ledger/index.ts';
import { type comebackGroupings, ofRepairs, rateOf } from '../ledger/index.ts';
import { Problem, quoted } from '../problem.ts';
import type { Stretch } from '../store/index.ts';
import type { CauseId, FamilyId, ModelId, SymptomId } from '../terms.ts';
import type { ComebackGroupView, RecurringGroup } from './contract.ts';
import { fromIso, type Instant, toIso } from './instants.ts';

/** Titles of what the reports count; what left the book since is still named by its id. */
export function titlesOf(book: Book) {
  const gone = (what: string, id: string): string => `${id} (${what} no longer in the book)`;
  return {
    cause: (id: string | null): string =>
      id === null || id === ''
        ? 'Not in the book'
        : (book.causes.get(id as CauseId)?.title ?? gone('cause', id)),
    component: (id: string): string => book.components.get(id)?.title ?? gone('component', id),
    symptom: (id: string | null): string =>
      id === null ? 'No symptom named' : (book.symptoms.get(id as SymptomId)?.title ?? gone('symptom', id)),
    model: (id: string | null): string => {
      if (id === null || id === '') return 'Model not known';
      const model = book.models.get(id as ModelId);
      return model ? `${model.maker} ${model.name}` : gone('model', id);
    },
    family: (id: string | null): string =>
      id === null || id === ''
        ? 'Engine not known'
        : (book.families.get(id as FamilyId)?.title ?? gone('engine', id)),
    partKind: (id: string | null): string =>
      id === null ? 'Parts without a kind' : (book.partKinds.get(id)?.title ?? id),
  };
}
export type Titles = ReturnType<typeof titlesOf>;

const msOfDay = 86_400_000;

export interface Asked {
  readonly from?: string | undefined;
  readonly until?: string | undefined;
  readonly days?: number | undefined;
}

/**
 * The stretch that is asked for.
 * @throws Problem bad-input where it ends before it begins
 */
export function stretchOf(asked: Asked, now: Instant, defaultDays: number): Stretch {
  const length = (asked.days ?? defaultDays) * msOfDay;
  const askedFrom = asked.from === undefined ? null : fromIso(asked.from).ms;
  const openEnd = askedFrom !== null && askedFrom >= now.ms ? askedFrom + length : now.ms;
  const untilMs = asked.until === undefined ? openEnd : fromIso(asked.until).ms;
  const fromMs = askedFrom ?? untilMs - length;
  if (fromMs >= untilMs)
    throw new Problem(
      'bad-input',
      `from: a period begins before it ends; ${quoted(asked.from ?? 'the start')} is not before ${quoted(asked.until ?? 'now')}.`,
      { field: 'from' },
    );
  return { fromMs, untilMs };
}

export function stretchBefore(
  { fromMs, untilMs }: Stretch,
  against: 'before' | 'year-before' | 'everything-before' | 'none',
): Stretch | null {
  if (against === 'none') return null;
  if (against === 'everything-before') return { fromMs: 0, untilMs: fromMs };
  if (against === 'before') return { fromMs: fromMs - (untilMs - fromMs), untilMs: fromMs };
  return { fromMs: yearEarlier(fromMs), untilMs: yearEarlier(untilMs) };
}

/** The same day of the year before; the last of February where there is no 29th. */
function yearEarlier(ms: number): number {
  const at = new Date(ms);
  const day = at.getUTCDate();
  at.setUTCDate(1);
  at.setUTCFullYear(at.getUTCFullYear() - 1);
  const lastDay = new Date(Date.UTC(at.getUTCFullYear(), at.getUTCMonth() + 1, 0)).getUTCDate();
  at.setUTCDate(Math.min(day, lastDay));
  return at.getTime();
}

export const stretchView = (stretch: Stretch, now: Instant): { from: string; until: string } => ({
  from: toIso(Math.max(0, stretch.fromMs), now.offset),
  until: toIso(stretch.untilMs, now.offset),
});

/** What to know before reading numbers of a stretch; null when there is nothing to say. */
export function remarkOn(
  { fromMs, untilMs }: Stretch,
  span: { readonly firstMs: number; readonly lastMs: number } | null,
  nowMs: number,
): string | null {
  if (!span) return 'No job is closed yet. Close the first one at the Bench, and it is counted here.';
  if (fromMs > nowMs) return 'This period lies in the future: nothing is closed in it yet.';
  if (untilMs <= span.firstMs) return 'This period lies before the first closed job.';
  if (fromMs > span.lastMs) return 'No job was closed in this period.';
  return null;
}

/** @param vehicles in care, that the group is counted against beside its visits; null where they are not counted */
export const groupView = (
  group: Recurring,
  title: string,
  vehicles: number | null,
  hasBefore: boolean,
): RecurringGroup => ({
  key: group.key,
  title,
  concerns: group.concerns,
  visits: group.visits,
  rate: group.rate,
  vehicles,
  rateInCare: vehicles === null ? null : rateOf(group.concerns, vehicles),
  before: hasBefore ? group.before : null,
  rateBefore: hasBefore ? group.rateBefore : null,
  share: group.share,
  cumulative: Math.min(1, group.cumulative),
  change: hasBefore ? group.change : null,
});

type Grouping = (typeof comebackGroupings)[number];

export function comebackTitle(titles: Titles, by: Grouping, ids: readonly string[]): string {
  const [first = '', second = ''] = ids;
  if (by === 'cause') return titles.cause(first);
  if (by === 'part-kind') return titles.partKind(first);
  if (by === 'supplier') return first;
  return `${titles.partKind(first)} from ${second}`;
}

export function comebackView(titles: Titles, by: Grouping, group: ComebackGroup): ComebackGroupView {
  const { ids, repairs, didNotHold, wrongDiagnosis, inDoubt, rate, rest, p, falseShare } = group;
  const others =
    by === 'part-kind-and-supplier'
      ? 'of the same kind from other suppliers'
      : by === 'supplier'
        ? 'with parts of others or none'
        : 'of all others';
  return {
    ids: [...ids],
    title: comebackTitle(titles, by, ids),
    repairs,
    didNotHold,
    wrongDiagnosis,
    inDoubt,
    rate,
    rest,
    p: Math.min(1, p),
    falseShare: Math.min(1, falseShare),
    says: `${ofRepairs(didNotHold, repairs)} did not hold, ${ofRepairs(rest.didNotHold, rest.repairs)} ${others}.`,
  };
}

/** The causes that a filter names; undefined for all. */
export function causesMeant(
  book: Book,
  input: { readonly causeId?: string | undefined; readonly componentId?: string | undefined },
): string[] | undefined {
  if (input.causeId !== undefined) return [input.causeId];
  if (input.componentId === undefined) return undefined;
  return [...book.causes.values()]
    .filter((cause) => cause.componentId === input.componentId)
    .map((cause) => cause.id);
}

const engineWords: Readonly<Record<string, string>> = {
  two: 'two-stroke',
  four: 'four-stroke',
  air: 'air-cooled',
  liquid: 'liquid-cooled',
};

/** What kind of engine a family is: strokes, cooling and fueling; the empty key where that is not known. */
export function engineType(book: Book, familyId: string | null): { key: string; title: string } {
  const traits = book.families.get((familyId ?? '') as FamilyId)?.traits;
  const parts = [traits?.stroke, traits?.cooling, traits?.fueling].filter((part) => part !== undefined);
  const words = parts.map((part) => engineWords[part] ?? part).join(', ');
  return parts.length === 0
    ? { key: '', title: 'Engine type not known' }
    : { key: parts.join('-'), title: words.charAt(0).toUpperCase() + words.slice(1) };
}

/** Families of engines of one type; for the empty key the known ones, which are then left out. */
export function familiesOfType(book: Book, key: string): { of: string[]; isOther: boolean } {
  const of = [...book.families.keys()].filter((id) => {
    const type = engineType(book, id).key;
    return key === '' ? type !== '' : type === key;
  });
  return { of, isOther: key === '' };
}
