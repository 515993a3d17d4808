import { fisherAtLeast } from './compare-rates.ts';
import { falseDiscovery } from './false-discovery.ts';
import { binomialInterval, type Interval } from './intervals.ts';
import { kaplanMeier, type Life, type LogRank, logRank, type SurvivalStep } from './survival.ts';

/** Proven repairs of a group, and what became of them. */
export interface RepairGroup {
  /** One id, or kind and supplier; empty text is a cause that the book lacks, or a kind or supplier not noted. */
  readonly ids: readonly string[];
  readonly repairs: number;
  /** Returns whose first diagnosis stands: part or work did not hold. */
  readonly didNotHold: number;
  /** Returns that took the first diagnosis back. */
  readonly wrongDiagnosis: number;
  readonly inDoubt: number;
}

/** By what comebacks are counted; never by person. */
export const comebackGroupings = ['cause', 'part-kind', 'supplier', 'part-kind-and-supplier'] as const;
export type ComebackGrouping = (typeof comebackGroupings)[number];

export interface ComebackGroup extends RepairGroup {
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

/** The smallest chance that so many returns among so many repairs could show for a group of this size. */
const smallest = (size: number, returns: number, all: number): number => {
  const most = Math.min(size, returns);
  return fisherAtLeast(most, size, returns - most, all - size);
};

/**
 * Comebacks by group, most returns first, each compared with its rest and corrected for looking at many.
 * @param everything all repairs, each once
 */
export function comebackGroups(
  groups: readonly RepairGroup[],
  by: ComebackGrouping,
  everything: Pick<RepairGroup, 'repairs' | 'didNotHold'>,
): ComebackGroup[] {
  const kinds = new Map<string, { repairs: number; didNotHold: number }>();
  if (by === 'part-kind-and-supplier')
    for (const group of groups) {
      const sum = kinds.get(group.ids[0] ?? '') ?? { repairs: 0, didNotHold: 0 };
      sum.repairs += group.repairs;
      sum.didNotHold += group.didNotHold;
      kinds.set(group.ids[0] ?? '', sum);
    }
  // Only a cause may be without a name: it is one that the book lacks.
  const named = groups.filter((group) => by === 'cause' || group.ids.every((id) => id !== ''));
  const made = named.map((group) => {
    const { repairs: size, didNotHold } = group;
    const whole = kinds.get(group.ids[0] ?? '') ?? everything;
    const rest = { repairs: whole.repairs - size, didNotHold: whole.didNotHold - didNotHold };
    const isTested = rest.repairs > 0 && smallest(size, whole.didNotHold, whole.repairs) <= 0.01;
    return {
      ...group,
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

export interface HoldingCurves {
  readonly chosen: readonly SurvivalStep[];
  readonly rest: readonly SurvivalStep[];
  readonly compared: LogRank | null;
}

/** How many repairs still hold after so many days, of a chosen group and of the rest. */
export function holdingCurves(chosen: readonly Life[], rest: readonly Life[]): HoldingCurves {
  return {
    chosen: kaplanMeier(chosen),
    rest: kaplanMeier(rest),
    compared: chosen.length > 0 && rest.length > 0 ? logRank(chosen, rest) : null,
  };
}

/** The lives that are in `all` and not in `some`, which is a part of it. */
export function livesWithout(all: readonly Life[], some: readonly Life[]): Life[] {
  const counts = new Map<string, Life & { readonly count: number }>();
  const add = (life: Life, sign: number): void => {
    const key = `${life.time} ${life.isEvent}`;
    counts.set(key, { ...life, count: (counts.get(key)?.count ?? 0) + sign * (life.count ?? 1) });
  };
  for (const life of all) add(life, 1);
  for (const life of some) add(life, -1);
  return [...counts.values()].filter((life) => life.count > 0);
}
