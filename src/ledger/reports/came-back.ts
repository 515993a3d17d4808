import { fisherAtLeast } from './compare-rates.ts';
import { falseDiscovery } from './false-discovery.ts';
import { binomialInterval, type Interval } from './intervals.ts';
import { kaplanMeier, type Life, type LogRank, logRank, type SurvivalStep } from './survival.ts';

/** A proven repair and its first return. */
export interface Repair {
  /** UTC milliseconds. */
  readonly closedMs: number;
  readonly causeIds: readonly (string | null)[];
  readonly parts: readonly { readonly kind: string | null; readonly supplier: string | null }[];
  readonly back: {
    readonly days: number;
    readonly state: 'in-doubt' | 'diagnosis-stands' | 'diagnosis-taken-back';
  } | null;
}

/** By what comebacks are counted; never by person. */
export const comebackGroupings = ['cause', 'part-kind', 'supplier', 'part-kind-and-supplier'] as const;
export type ComebackGrouping = (typeof comebackGroupings)[number];

export interface ComebackGroup {
  /** Ids in the order of the grouping: one, or kind and supplier. */
  readonly ids: readonly string[];
  readonly repairs: number;
  /** Returns whose first diagnosis stands: part or work did not hold. */
  readonly didNotHold: number;
  /** Returns that took the first diagnosis back. */
  readonly wrongDiagnosis: number;
  readonly inDoubt: number;
  /** Share of the repairs that did not hold with exact 95 % limits; null with fewer than 10 repairs. */
  readonly rate: (Interval & { readonly share: number }) | null;
  /** What it is compared with: the same kind of part from other suppliers, else all other repairs. */
  readonly rest: { readonly repairs: number; readonly didNotHold: number };
  /** Chance of at least so many, if this group were like the rest. */
  readonly p: number;
  readonly falseShare: number;
}

/** Fewer repairs than these are shown as numbers, not as a share. Our judgment, no source. */
export const fewRepairs = 10;

const held = (repair: Repair): boolean => repair.back?.state !== 'diagnosis-stands';

function keysOf(repair: Repair, by: ComebackGrouping): (readonly string[])[] {
  const unique = new Map<string, readonly string[]>();
  const add = (...ids: (string | null)[]): void => {
    if (ids.every((id) => id !== null)) unique.set(JSON.stringify(ids), ids);
  };
  if (by === 'cause') for (const causeId of repair.causeIds) add(causeId ?? '');
  for (const part of repair.parts) {
    if (by === 'part-kind') add(part.kind);
    if (by === 'supplier') add(part.supplier);
    if (by === 'part-kind-and-supplier') add(part.kind, part.supplier);
  }
  return [...unique.values()];
}

/** The smallest chance that so many returns among so many repairs could show for a group of this size. */
const smallest = (size: number, returns: number, all: number): number => {
  const most = Math.min(size, returns);
  return fisherAtLeast(most, size, returns - most, all - size);
};

/** Comebacks by group, most returns first, each compared with its rest and corrected for looking at many. */
export function comebackGroups(repairs: readonly Repair[], by: ComebackGrouping): ComebackGroup[] {
  const members = new Map<string, { ids: readonly string[]; repairs: Repair[] }>();
  for (const repair of repairs)
    for (const ids of keysOf(repair, by)) {
      const key = JSON.stringify(ids);
      const group = members.get(key) ?? { ids, repairs: [] };
      group.repairs.push(repair);
      members.set(key, group);
    }
  const kinds = new Map<string, { repairs: number; didNotHold: number }>();
  if (by === 'part-kind-and-supplier')
    for (const group of members.values()) {
      const kind = group.ids[0] ?? '';
      const sum = kinds.get(kind) ?? { repairs: 0, didNotHold: 0 };
      sum.repairs += group.repairs.length;
      sum.didNotHold += group.repairs.filter((repair) => !held(repair)).length;
      kinds.set(kind, sum);
    }
  const everything = {
    repairs: repairs.length,
    didNotHold: repairs.filter((repair) => !held(repair)).length,
  };
  const made = [...members.values()].map((group) => {
    const size = group.repairs.length;
    const didNotHold = group.repairs.filter((repair) => !held(repair)).length;
    const whole = kinds.get(group.ids[0] ?? '') ?? everything;
    const rest = { repairs: whole.repairs - size, didNotHold: whole.didNotHold - didNotHold };
    const isTested = rest.repairs > 0 && smallest(size, whole.didNotHold, whole.repairs) <= 0.01;
    return {
      ids: group.ids,
      repairs: size,
      didNotHold,
      wrongDiagnosis: group.repairs.filter((repair) => repair.back?.state === 'diagnosis-taken-back').length,
      inDoubt: group.repairs.filter((repair) => repair.back?.state === 'in-doubt').length,
      rate: size < fewRepairs ? null : { share: didNotHold / size, ...binomialInterval(didNotHold, size) },
      rest,
      p: rest.repairs > 0 ? fisherAtLeast(didNotHold, size, rest.didNotHold, rest.repairs) : 1,
      isTested,
    };
  });
  const tested = made.filter((group) => group.isTested);
  const corrected = new Map(
    falseDiscovery(tested.map((group) => group.p)).map((share, place) => [tested[place], share]),
  );
  return made
    .map((group) => {
      const { isTested: _, ...rest } = group;
      return { ...rest, falseShare: corrected.get(group) ?? 1 };
    })
    .sort((a, b) => b.didNotHold - a.didNotHold || b.repairs - a.repairs || (a.ids < b.ids ? -1 : 1));
}

const msOfDay = 86_400_000;

/** How long repairs have held so far: until the return, else until now or the end of the window, in whole days. */
export function livesOf(repairs: readonly Repair[], nowMs: number, windowDays: number): Life[] {
  return repairs
    .filter((repair) => repair.closedMs <= nowMs)
    .map((repair) => {
      const watched = Math.min(windowDays, Math.floor((nowMs - repair.closedMs) / msOfDay));
      return repair.back && repair.back.days <= watched
        ? { time: repair.back.days, isEvent: true }
        : { time: watched, isEvent: false };
    });
}

export interface HoldingCurves {
  readonly chosen: readonly SurvivalStep[];
  readonly rest: readonly SurvivalStep[];
  readonly compared: LogRank | null;
}

/** How many repairs still hold after so many days, of a chosen group and of the rest. */
export function holdingCurves(
  chosen: readonly Repair[],
  rest: readonly Repair[],
  nowMs: number,
  windowDays: number,
): HoldingCurves {
  const one = livesOf(chosen, nowMs, windowDays);
  const other = livesOf(rest, nowMs, windowDays);
  return {
    chosen: kaplanMeier(one),
    rest: kaplanMeier(other),
    compared: one.length > 0 && other.length > 0 ? logRank(one, other) : null,
  };
}
