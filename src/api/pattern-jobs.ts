import type { Book } from '../book/index.ts';
import { ageSpan, mileageSpan } from '../ledger/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  checksDone,
  ledgerSpan,
  mileageBand_km,
  openAdvisories,
  ordersOfOpenJobs,
  type RepairFilter,
  rankingsOfOpen,
  repairsBehind,
  shelfByKind,
  takenBack,
} from '../store/index.ts';
import type { CauseId, CheckId } from '../terms.ts';
import type { OutputOf, ParsedInputOf, RepairBehind } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import { isoOrNull, toIso } from './instants.ts';
import {
  engineType,
  familiesOfType,
  remarkOn,
  stretchOf,
  stretchView,
  type Titles,
  titlesOf,
} from './pattern-views.ts';
import { titleOfModel } from './views.ts';

type JobsAsked = ParsedInputOf<'patterns.jobs'>;

const causesOf = (book: Book, componentId: string): string[] =>
  [...book.causes.values()].filter((cause) => cause.componentId === componentId).map((cause) => cause.id);

/** What a group's key stands for, as a filter; an empty key is "not known" or "not in the book". */
function groupFilter(book: Book, by: NonNullable<JobsAsked['by']>, key: string): RepairFilter {
  const known = key === '' ? null : key;
  const noBand = (): Problem =>
    new Problem('bad-input', `key: there is no group ${quoted(key)} by ${by}.`, { field: 'key' });
  switch (by) {
    case 'cause':
      return { causeIds: known === null ? null : [known] };
    case 'component':
      return { causeIds: known === null ? null : causesOf(book, known) };
    case 'system':
      return {
        causeIds:
          known === null
            ? null
            : [...book.causes.values()].filter((cause) => cause.system === known).map((cause) => cause.id),
      };
    case 'engine-type': {
      const families = familiesOfType(book, key);
      if (key !== '' && families.of.length === 0) throw noBand();
      return { families };
    }
    case 'symptom':
      return { symptomId: known };
    case 'model':
      return { modelId: known };
    case 'family':
      return { familyId: known };
    case 'part-kind':
      return { partKind: known };
    case 'supplier':
      return { supplier: known };
    case 'technician':
      return { technician: known };
    case 'model-year': {
      if (known !== null && !/^\d{1,4}$/.test(known)) throw noBand();
      return { modelYear: known === null ? null : Number(known) };
    }
    case 'age': {
      const age = known === null ? null : ageSpan(known);
      if (known !== null && age === null) throw noBand();
      return { age };
    }
    case 'mileage': {
      const mileageBands = known === null ? null : mileageSpan(known, mileageBand_km);
      if (known !== null && mileageBands === null) throw noBand();
      return { mileageBands };
    }
    default:
      throw noBand();
  }
}

function groupTitle(book: Book, titles: Titles, by: NonNullable<JobsAsked['by']>, key: string): string {
  const or = (words: string): string => (key === '' ? words : key);
  switch (by) {
    case 'cause':
      return titles.cause(key);
    case 'component':
      return key === '' ? 'Not in the book' : titles.component(key);
    case 'symptom':
      return titles.symptom(key === '' ? null : key);
    case 'model':
      return titles.model(key);
    case 'family':
      return titles.family(key);
    case 'engine-type':
      return engineType(book, key === '' ? null : (familiesOfType(book, key).of[0] ?? null)).title;
    case 'part-kind':
      return titles.partKind(key === '' ? null : key);
    case 'age':
      return key === '' ? 'Year not known' : key === 'older' ? 'Over 20 years old' : `${key} years old`;
    case 'mileage':
      return key === '' ? 'Mileage not known' : `From ${Number(key).toLocaleString('en-US')} km`;
    case 'model-year':
      return or('Year not known');
    case 'technician':
      return or('Nobody noted');
    case 'supplier':
      return or('Supplier not noted');
    default:
      return or('Not in the book');
  }
}

/** What was asked for, in words. */
function titleOf(book: Book, titles: Titles, input: JobsAsked): string {
  const parts = [
    ...(input.by === undefined ? [] : [groupTitle(book, titles, input.by, input.key ?? '')]),
    ...(input.causeId === undefined ? [] : [titles.cause(input.causeId)]),
    ...(input.componentId === undefined ? [] : [titles.component(input.componentId)]),
    ...(input.symptomId === undefined ? [] : [titles.symptom(input.symptomId)]),
    ...(input.partKind === undefined ? [] : [titles.partKind(input.partKind)]),
    ...(input.supplier === undefined ? [] : [`from ${input.supplier}`]),
    ...(input.modelId === undefined ? [] : [`on ${titles.model(input.modelId)}`]),
    ...(input.familyId === undefined ? [] : [`on ${titles.family(input.familyId)}`]),
  ];
  const what = parts.length === 0 ? 'All proven repairs' : parts.join(' ');
  if (input.back === undefined) return what;
  return `${what}: ${{ 'diagnosis-stands': 'did not hold', 'diagnosis-taken-back': 'had another cause', 'in-doubt': 'in doubt' }[input.back]}`;
}

type Behind = Awaited<ReturnType<typeof repairsBehind>>;

function repairView(book: Book, titles: Titles, row: Behind['rows'][number], all: Behind): RepairBehind {
  const back = all.returns.find((one) => one.of === row.id);
  return {
    jobNumber: row.jobNumber,
    closedAt: toIso(row.closedMs ?? 0, row.closedOffset ?? 0),
    plate: row.plate,
    model: titleOfModel(book, row.modelId, row.modelWords),
    concern: row.symptomId === null ? row.words : titles.symptom(row.symptomId),
    causes: all.causes
      .filter((cause) => cause.concernId === row.id)
      .map((cause) => (cause.causeId === null ? (cause.words ?? '') : titles.cause(cause.causeId))),
    proof: row.proof,
    parts: all.parts
      .filter((part) => part.concernId === row.id)
      .map((part) => ({ title: part.description, supplier: part.supplier, quantity: part.quantity })),
    back: back
      ? {
          jobNumber: back.jobNumber,
          days: back.days === null ? null : Math.max(0, Math.round(back.days)),
          state: back.state as NonNullable<RepairBehind['back']>['state'],
          why: back.why ?? '',
        }
      : null,
  };
}

export async function jobsBehind(desk: Desk, input: JobsAsked): Promise<OutputOf<'patterns.jobs'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 365);
  if ((input.by === undefined) !== (input.key === undefined))
    throw new Problem('bad-input', 'key: a group is named by both "by" and "key".', { field: 'key' });
  const filter: RepairFilter = {
    modelId: input.modelId,
    familyId: input.familyId,
    symptomId: input.symptomId,
    partKind: input.partKind,
    supplier: input.supplier,
    causeIds:
      input.causeId !== undefined
        ? [input.causeId]
        : input.componentId !== undefined
          ? causesOf(book, input.componentId)
          : undefined,
    back: input.back,
    alsoTakenBack: input.alsoTakenBack,
  };
  const group = input.by === undefined ? {} : groupFilter(book, input.by, input.key ?? '');
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const found = await repairsBehind(db, stretch, { ...filter, ...group }, input.limit ?? 100);
    return {
      title: titleOf(book, titles, input),
      period: stretchView(stretch, now),
      all: found.all,
      jobs: found.rows.map((row) => repairView(book, titles, row, found)),
      remark: remarkOn(stretch, span, now.ms),
    };
  });
}

export async function takenBackCauses(
  desk: Desk,
  input: ParsedInputOf<'patterns.takenBack'>,
): Promise<OutputOf<'patterns.takenBack'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 3 * 365);
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const { all, rows, causes } = await takenBack(db, stretch, input.limit ?? 100);
    const named = (concernId: string): string[] =>
      causes
        .filter((cause) => cause.concernId === concernId)
        .map((cause) => (cause.causeId === null ? (cause.words ?? '') : titles.cause(cause.causeId)));
    return {
      period: stretchView(stretch, now),
      all,
      rows: rows.map((row) => ({
        jobNumber: row.firstNumber,
        closedAt: toIso(row.closedMs ?? 0, row.closedOffset ?? 0),
        model: titles.model(row.modelId),
        symptom: titles.symptom(row.symptomId),
        causes: named(row.firstId),
        laterJobNumber: row.laterNumber,
        days: row.days === null ? null : Math.max(0, Math.round(row.days)),
        laterCauses: named(row.laterId),
        why: row.why ?? '',
      })),
      remark: remarkOn(stretch, span, now.ms),
    };
  });
}

/** With fewer answers it says nothing that a check always shows the same. */
const fewestAnswers = 10;

export async function checksThatTellNothing(
  desk: Desk,
  input: ParsedInputOf<'patterns.checks'>,
): Promise<OutputOf<'patterns.checks'>> {
  const { book } = await desk.book();
  const now = desk.now();
  const stretch = stretchOf(input, now, 3 * 365);
  const byCheck = Map.groupBy(await checksDone(desk.db, stretch), (row) => row.checkId);
  const sums = [...byCheck].map(([checkId, answers]) => ({
    checkId,
    answers,
    times: answers.reduce((sum, row) => sum + row.times, 0),
  }));
  const judged = sums.filter((one) => one.times >= fewestAnswers);
  return {
    period: stretchView(stretch, now),
    done: sums.length,
    judged: judged.length,
    rows: judged
      .filter((one) => one.answers.length === 1)
      .sort((a, b) => b.times - a.times)
      .map(({ checkId, answers, times }) => {
        const check = book.checks.get(checkId as CheckId);
        const outcome = answers[0]?.outcome ?? '';
        return {
          checkId,
          title: check?.title ?? `${checkId} (check no longer in the book)`,
          answer: check?.outcomes.find((one) => one.id === outcome)?.title ?? outcome,
          times,
          minutes: check ? check.minutes * times : null,
        };
      }),
  };
}

/** Chances below this do not bring a part to the shelf. */
const leastExpected = 0.2;

export async function partsSoon(desk: Desk): Promise<OutputOf<'patterns.soon'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  return inSnapshot(desk, async (db) => {
    const open = await rankingsOfOpen(db);
    const shelf = new Map((await shelfByKind(db)).map((row) => [row.kind, row]));
    const wanted = new Map<
      string,
      { expected: number; jobs: { number: number; cause: string; chance: number }[] }
    >();
    for (const concern of open) {
      const { causes } = JSON.parse(concern.ranking) as { causes: [string, number][] };
      for (const [causeId, chance] of causes) {
        const cause = book.causes.get(causeId as CauseId);
        for (const part of cause?.repair.parts ?? []) {
          const row = wanted.get(part.kind) ?? { expected: 0, jobs: [] };
          row.expected += chance * part.quantity;
          row.jobs.push({ number: concern.jobNumber, cause: titles.cause(causeId), chance });
          wanted.set(part.kind, row);
        }
      }
    }
    return {
      concerns: open.length,
      rows: [...wanted]
        .filter(([, row]) => row.expected >= leastExpected)
        .sort(([, a], [, b]) => b.expected - a.expected)
        .slice(0, 30)
        .map(([kind, row]) => {
          const there = shelf.get(kind);
          return {
            kind,
            title: titles.partKind(kind),
            expected: row.expected,
            free: (there?.onHand ?? 0) - (there?.reserved ?? 0),
            onOrder: there?.onOrder ?? 0,
            jobs: row.jobs.sort((a, b) => b.chance - a.chance).slice(0, 5),
          };
        }),
    };
  });
}

const mostLines = 100;

export async function dayWaits(desk: Desk): Promise<OutputOf<'patterns.day'>> {
  const { book } = await desk.book();
  const now = desk.now();
  return inSnapshot(desk, async (db) => {
    const orders = await ordersOfOpenJobs(db, mostLines);
    const { rows, counts } = await openAdvisories(db, mostLines);
    return {
      orders: orders.map((row) => ({
        orderId: row.id,
        title: row.title,
        partNumber: row.partNumber,
        supplier: row.supplier,
        quantity: row.quantity,
        arrived: row.arrived,
        expectedAt: isoOrNull(row.expectedMs, row.expectedOffset),
        isLate: row.arrived < row.quantity && row.expectedMs !== null && row.expectedMs < now.ms,
        jobNumber: row.jobNumber,
        jobStatus: row.status as OutputOf<'patterns.day'>['orders'][number]['jobStatus'],
      })),
      advisories: rows.map((row) => ({
        advisoryId: row.id,
        words: row.words,
        urgency: row.urgency as 'now' | 'soon' | 'watch',
        doNotRide: row.doNotRide === 1,
        madeAt: toIso(row.madeMs, row.madeOffset),
        jobNumber: row.jobNumber,
        plate: row.plate,
        model: titleOfModel(book, row.modelId, row.modelWords),
        customer: row.customer,
        phone: row.phone,
      })),
      advisoryCounts: { now: counts.now ?? 0, soon: counts.soon ?? 0, watch: counts.watch ?? 0 },
    };
  });
}
