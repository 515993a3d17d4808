import { unlistedCause } from '../book/index.ts';
import type { ClosedConcern } from './closed-concern.ts';
import { monthAt } from './reports/words.ts';

/** A closed concern with what the counts by month need beside the tally. */
export interface DatedConcern extends ClosedConcern {
  /** Minutes by which the shop's clock was ahead of UTC at the closing. */
  readonly offset: number;
  readonly parts: readonly {
    readonly kind: string | null;
    readonly supplier: string | null;
    readonly quantity: number;
  }[];
  /** A return was decided to count against the part or the work. */
  readonly cameBack: boolean;
  /** The first closed concern of its job: the visit is counted with it, so that every visit is counted once. */
  readonly isFirstOfVisit: boolean;
}

/** Standing proven concerns and visits of a month. Empty text is "not known" in every row. */
export interface MonthRow {
  /** Year × 12 + month (0 = January) on the clock of the shop at the closing. */
  readonly month: number;
  readonly modelId: string;
  readonly familyId: string;
  readonly symptomId: string;
  readonly concerns: number;
  readonly visits: number;
}

/** Standing proven concerns of a month by cause; one with two causes counts for both. Empty: the book lacks the cause. */
export interface MonthCauseRow {
  readonly month: number;
  readonly causeId: string;
  readonly modelId: string;
  readonly familyId: string;
  readonly symptomId: string;
  readonly concerns: number;
}

export const repairGroupings = ['all', 'cause', 'part-kind', 'supplier', 'part-kind-and-supplier'] as const;
export type RepairGrouping = (typeof repairGroupings)[number];

/** Proven repairs of a month in one grouping, each counted once a group. */
export interface MonthRepairRow {
  readonly month: number;
  readonly grouping: RepairGrouping;
  readonly key: string;
  /** Only where grouped by kind and supplier. */
  readonly supplier: string;
  readonly repairs: number;
  /** The diagnosis stands, part or work did not hold. */
  readonly didNotHold: number;
  readonly takenBack: number;
}

/** Parts used at the closings of a day. */
export interface DayPartRow {
  /** Days of UTC since 1970. */
  readonly day: number;
  readonly kind: string;
  readonly quantity: number;
}

export interface MonthRows {
  readonly months: readonly MonthRow[];
  readonly causes: readonly MonthCauseRow[];
  readonly repairs: readonly MonthRepairRow[];
  readonly used: readonly DayPartRow[];
}

const msOfDay = 86_400_000;
const textOf = (id: string | null): string => (id === null || id === unlistedCause ? '' : id);

function groupsOf(concern: DatedConcern): (readonly [RepairGrouping, string, string])[] {
  const groups: (readonly [RepairGrouping, string, string])[] = [['all', '', '']];
  for (const cause of concern.causes) groups.push(['cause', textOf(cause), '']);
  for (const { kind, supplier } of concern.parts) {
    groups.push(['part-kind', textOf(kind), ''], ['supplier', textOf(supplier), '']);
    if (kind !== null && supplier !== null) groups.push(['part-kind-and-supplier', kind, supplier]);
  }
  return [...new Map(groups.map((group) => [JSON.stringify(group), group])).values()];
}

/** What one closed concern adds to the counts by month and day. */
export function monthRowsOf(concern: DatedConcern): MonthRows {
  const month = monthAt(concern.closedAt, concern.offset);
  const isProven = concern.outcome === 'proven';
  const stands = isProven && !concern.takenBack;
  const at = {
    month,
    modelId: textOf(concern.modelId),
    familyId: textOf(concern.familyId),
    symptomId: textOf(concern.symptomId),
  };
  return summedMonths([
    {
      months: [{ ...at, concerns: Number(stands), visits: Number(concern.isFirstOfVisit) }],
      causes: stands
        ? [...new Set(concern.causes.map(textOf))].map((causeId) => ({ ...at, causeId, concerns: 1 }))
        : [],
      repairs: isProven
        ? groupsOf(concern).map(([grouping, key, supplier]) => ({
            month,
            grouping,
            key,
            supplier,
            repairs: 1,
            didNotHold: Number(concern.cameBack && stands),
            takenBack: Number(concern.takenBack),
          }))
        : [],
      used: concern.parts.map(({ kind, quantity }) => ({
        day: Math.floor(concern.closedAt / msOfDay),
        kind: textOf(kind),
        quantity,
      })),
    },
  ]);
}

/** The rows to add when a concern changes from `before` to `after` (null: not closed); negative numbers take away. */
export function monthDelta(before: DatedConcern | null, after: DatedConcern | null): MonthRows {
  return summedMonths([
    ...(before ? [negated(monthRowsOf(before))] : []),
    ...(after ? [monthRowsOf(after)] : []),
  ]);
}

const minus = <R extends object, F extends keyof R>(row: R, ...fields: F[]): R => ({
  ...row,
  ...Object.fromEntries(fields.map((field) => [field, -Number(row[field])])),
});

const negated = (rows: MonthRows): MonthRows => ({
  months: rows.months.map((row) => minus(row, 'concerns', 'visits')),
  causes: rows.causes.map((row) => minus(row, 'concerns')),
  repairs: rows.repairs.map((row) => minus(row, 'repairs', 'didNotHold', 'takenBack')),
  used: rows.used.map((row) => minus(row, 'quantity')),
});

/** Adds rows of the same keys; what comes to nothing is left out. */
export function summedMonths(all: readonly MonthRows[]): MonthRows {
  return {
    months: summed(
      all.flatMap((rows) => rows.months),
      ['concerns', 'visits'],
    ),
    causes: summed(
      all.flatMap((rows) => rows.causes),
      ['concerns'],
    ),
    repairs: summed(
      all.flatMap((rows) => rows.repairs),
      ['repairs', 'didNotHold', 'takenBack'],
    ),
    used: summed(
      all.flatMap((rows) => rows.used),
      ['quantity'],
    ),
  };
}

function summed<R extends object>(rows: readonly R[], sums: readonly (keyof R & string)[]): R[] {
  const byKey = new Map<string, R>();
  for (const row of rows) {
    const key = JSON.stringify(
      Object.entries(row)
        .filter(([name]) => !sums.includes(name as keyof R & string))
        .sort(),
    );
    const before = byKey.get(key);
    byKey.set(
      key,
      before
        ? {
            ...before,
            ...Object.fromEntries(sums.map((name) => [name, Number(before[name]) + Number(row[name])])),
          }
        : row,
    );
  }
  return [...byKey.values()].filter((row) => sums.some((name) => Number(row[name]) !== 0));
}
