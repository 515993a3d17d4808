import type { Book } from '../book/index.ts';
import {
  ageBand,
  type GroupCounts,
  mileageBandWords,
  type Recurring,
  recurringGroups,
  sumIntoGroups,
} from '../ledger/index.ts';
import {
  countProven,
  countVehicles,
  countVisits,
  type FactFilter,
  ledgerSpan,
  mileageBand_km,
  type StoredDimension,
  type Stretch,
  severalCauses,
  type VisitDimension,
} from '../store/index.ts';
import type { CauseId } from '../terms.ts';
import type { OutputOf, ParsedInputOf, RecurringBy } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import {
  causesMeant,
  engineType,
  groupView,
  remarkOn,
  stretchBefore,
  stretchOf,
  stretchView,
  type Titles,
  titlesOf,
} from './pattern-views.ts';

/** Groups that are known of the visit: with a cause or symptom picked, they are counted against their own visits. */
const visitGroups: readonly string[] = [
  'model',
  'family',
  'engine-type',
  'model-year',
  'age',
  'mileage',
  'technician',
] satisfies (VisitDimension | 'engine-type')[];
/** Engine types are known to the book alone and are summed from families. */
const storedOf = <B extends RecurringBy>(by: B): Exclude<B, 'engine-type'> | 'family' =>
  by === 'engine-type' ? 'family' : (by as Exclude<B, 'engine-type'>);
const visitGroupOf = (by: RecurringBy): VisitDimension | null =>
  visitGroups.includes(by) ? (storedOf(by) as VisitDimension) : null;

/** People in the order of their names, whoever's number is higher; jobs without a name come last. */
const byName = (a: { readonly key: string }, b: { readonly key: string }): number =>
  Number(a.key === '') - Number(b.key === '') || a.key.localeCompare(b.key, 'en') || (a.key < b.key ? -1 : 1);

/** A key and title for what the database grouped by. */
function namer(
  book: Book,
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
    case 'engine-type':
      return (key) => {
        const type = engineType(book, key === null ? null : text(key));
        return [type.key, type.title];
      };
    case 'part-kind':
      return (key) => [text(key), titles.partKind(key === null ? null : text(key))];
    case 'component':
      return (key) => [text(key), key === '' ? 'Not in the book' : titles.component(text(key))];
    case 'model-year':
      return (key) => [text(key), key === null ? 'Year not known' : text(key)];
    case 'technician':
      return (key) => [text(key), key === null ? 'Nobody noted' : text(key)];
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
  for (const { key, concerns } of await countProven(
    db,
    stretch,
    storedOf(by) satisfies StoredDimension,
    filter,
  ))
    add(key, concerns);
  return counts;
}

async function vehiclesIn(
  db: Desk['db'],
  by: VisitDimension | null,
  stretch: Stretch,
  filter: FactFilter,
  nameOf: ReturnType<typeof namer>,
): Promise<Map<string, number>> {
  const vehicles = new Map<string, number>();
  for (const row of await countVehicles(db, stretch, by, filter)) {
    const key = by === null ? '' : nameOf(row.key)[0];
    vehicles.set(key, (vehicles.get(key) ?? 0) + row.vehicles);
  }
  return vehicles;
}

async function visitsIn(
  db: Desk['db'],
  by: VisitDimension | null,
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

/** Groups of people by name, with the sums in that order. */
function inOrderOfNames(groups: readonly Recurring[]): Recurring[] {
  let sum = 0;
  return groups.toSorted(byName).map((group) => {
    sum += group.share;
    return { ...group, cumulative: sum };
  });
}

export async function recurring(
  desk: Desk,
  input: ParsedInputOf<'patterns.recurring'>,
): Promise<OutputOf<'patterns.recurring'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 365);
  const before = stretchBefore(stretch, input.against ?? 'before');
  const { by } = input;
  const nameOf = namer(book, by, titles);
  const filter: FactFilter = {
    modelId: input.modelId,
    familyId: input.familyId,
    symptomId: input.symptomId,
    causeIds: causesMeant(book, input),
  };
  const isPicked = filter.causeIds !== undefined || filter.symptomId !== undefined;
  const visitsBy = isPicked ? visitGroupOf(by) : null;
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const counts = await countsIn(db, book, by, stretch, filter, nameOf);
    const visits = await visitsIn(db, visitsBy, stretch, filter, nameOf);
    const all = await visitsIn(db, null, stretch, filter, nameOf);
    desk.pace.tell(0.4, 'Counting the vehicles');
    await desk.pace.breathe();
    const vehicles = await vehiclesIn(db, visitsBy, stretch, filter, nameOf);
    const allVehicles = visitsBy ? await vehiclesIn(db, null, stretch, filter, nameOf) : vehicles;
    desk.pace.tell(0.7, 'Counting what it is compared with');
    await desk.pace.breathe();
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
    const ranked = recurringGroups(groups);
    const isPeople = by === 'technician';
    const made = isPeople ? inOrderOfNames(ranked) : ranked;
    const shown = made.slice(0, input.limit ?? 50);
    const titleOf = (group: Recurring): string =>
      counts.get(group.key)?.title ?? old.get(group.key)?.title ?? group.key;
    const left = made.slice(shown.length);
    return {
      by,
      period: {
        ...stretchView(stretch, now),
        visits: all.get('') ?? 0,
        vehicles: allVehicles.get('') ?? 0,
      },
      before: before && { ...stretchView(before, now), visits: oldAll.get('') ?? 0 },
      groups: shown.map((group) => {
        const view = groupView(
          group,
          titleOf(group),
          vehicles.get(visitsBy ? group.key : '') ?? 0,
          before !== null,
        );
        // The change of a person's numbers says too little about the person to be tested.
        return isPeople ? { ...view, change: null } : view;
      }),
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
