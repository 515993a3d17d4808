import { binomialAtLeast, compareRates, type RateComparison, smallestRise } from './compare-rates.ts';
import { falseDiscovery } from './false-discovery.ts';

/** Proven concerns of one model and cause; null is a model not known, or a cause that the book lacks. */
export interface CausePair {
  readonly modelId: string | null;
  readonly causeId: string | null;
  /** In the period that is asked about. */
  readonly now: number;
  /** In all that came before it, by calendar month, January first: 12 numbers. */
  readonly before: readonly number[];
}

export interface VisitCell {
  /** Year × 12 + month, January 0. */
  readonly month: number;
  /** In the period that is asked about; the rest is what came before it. */
  readonly isLate: boolean;
  readonly modelId: string | null;
  readonly visits: number;
}

/** A cause that comes in more often than before: on every model together (`modelId` undefined), or on one. */
export interface Rise {
  readonly causeId: string | null;
  readonly modelId: string | null | undefined;
  readonly now: { readonly concerns: number; readonly visits: number };
  readonly before: { readonly concerns: number; readonly visits: number };
  /** By visits weighted with the season. */
  readonly comparison: RateComparison;
  readonly falseShare: number;
  /** The cause's season, by which visits are weighted: 12 numbers around 1. */
  readonly season: readonly number[];
}

/** A stretch of months, both inclusive. */
export interface MonthsOut {
  readonly from: number;
  readonly until: number;
  readonly concerns: number;
}

export interface RisesFound {
  readonly rises: readonly Rise[];
  /** How many questions were asked of the ledger, and how many of them could be answered at all. */
  readonly asked: number;
  readonly tested: number;
}

/** Of what is named at most this share is chance. */
export const falseShareAllowed = 0.05;
const reach = 0.01;
/** Virtual concerns that hold a month's season at 1 until the ledger knows better. Our judgment, no source. */
const seasonDoubt = 5;
const fewest = 3;

interface Sums {
  readonly visits: number;
  /** By calendar month. */
  readonly byMonth: readonly number[];
}

const yearOf = (): number[] => Array.from({ length: 12 }, () => 0);
const total = (numbers: readonly number[]): number => numbers.reduce((sum, n) => sum + n, 0);
const calendar = (month: number): number => ((month % 12) + 12) % 12;

/** What the questions are asked of, summed once. */
class Counts {
  readonly #byCause: ReadonlyMap<string | null, readonly CausePair[]>;
  readonly #visits = new Map<string | null, { late: number[]; early: number[] }>();
  readonly #season = new Map<string | null, readonly number[]>();
  readonly #late = new Map<Model, Sums>();
  readonly #early = new Map<Model, Sums>();

  constructor(pairs: readonly CausePair[], visits: readonly VisitCell[]) {
    this.#byCause = Map.groupBy(pairs, (pair) => pair.causeId);
    for (const { month, isLate, modelId, visits: n } of visits) {
      const at = this.#visits.get(modelId) ?? { late: yearOf(), early: yearOf() };
      const side = isLate ? at.late : at.early;
      side[calendar(month)] = (side[calendar(month)] ?? 0) + n;
      this.#visits.set(modelId, at);
    }
  }

  causes(): Iterable<string | null> {
    return this.#byCause.keys();
  }

  pairs(causeId: string | null): readonly CausePair[] {
    return this.#byCause.get(causeId) ?? [];
  }

  /** Models that came in during the period. */
  modelsNow(): number {
    return [...this.#visits.values()].filter((side) => total(side.late) > 0).length;
  }

  /** Visits of a model (undefined: of all but some). */
  visits(isLate: boolean, modelId: Model, without: readonly Model[] = []): Sums {
    if (without.length > 0) return this.#summed(isLate, modelId, without);
    const sums = isLate ? this.#late : this.#early;
    const known = sums.get(modelId) ?? this.#summed(isLate, modelId, without);
    sums.set(modelId, known);
    return known;
  }

  #summed(isLate: boolean, modelId: Model, without: readonly Model[]): Sums {
    const byMonth = yearOf();
    for (const [model, side] of this.#visits) {
      if (modelId !== undefined ? model !== modelId : without.includes(model)) continue;
      for (const [month, n] of (isLate ? side.late : side.early).entries())
        byMonth[month] = (byMonth[month] ?? 0) + n;
    }
    return { visits: total(byMonth), byMonth };
  }

  /** Each calendar month's share of a cause relative to the whole year, from what came before, all models together. */
  season(causeId: string | null): readonly number[] {
    const known = this.#season.get(causeId);
    if (known) return known;
    const { visits, byMonth } = this.visits(false, undefined);
    const concerns = yearOf();
    for (const pair of this.pairs(causeId))
      for (const [month, n] of pair.before.entries()) concerns[month] = (concerns[month] ?? 0) + n;
    const rate = visits === 0 ? 0 : total(concerns) / visits;
    const made = byMonth.map((n, month) => ((concerns[month] ?? 0) + seasonDoubt) / (n * rate + seasonDoubt));
    this.#season.set(causeId, made);
    return made;
  }
}

type Model = string | null | undefined;

/**
 * Causes whose rate per visit rose more than chance and season explain: every cause over all models, and on each model, is
 * compared with all that came before by the exact conditional test (one side), visits weighted with the season of the cause,
 * corrected for looking at many. A rise over all models that some models
 * explain is named on those; one that most models show is named once, for all.
 */
export function findRises(pairs: readonly CausePair[], visits: readonly VisitCell[]): RisesFound {
  const counts = new Counts(pairs, visits);
  const asked: { causeId: string | null; modelId: Model }[] = [];
  for (const causeId of counts.causes()) {
    asked.push({ causeId, modelId: undefined });
    for (const { modelId } of counts.pairs(causeId)) asked.push({ causeId, modelId });
  }
  const tested = asked.map((one) => look(counts, one.causeId, one.modelId)).filter((one) => one !== null);
  const corrected = falseDiscovery(tested.map((one) => one.pRise));
  const found = tested
    .map((one, place) => ({ ...one, falseShare: corrected[place] ?? 1 }))
    .filter((one) => one.falseShare <= falseShareAllowed && one.now.concerns >= fewest)
    .sort((a, b) => a.pRise - b.pRise);
  const onModels = found.filter((one) => one.modelId !== undefined);
  const everywhere = new Set(
    found
      .filter((one) => one.modelId === undefined && isEverywhere(counts, one, onModels))
      .map((one) => one.causeId),
  );
  const rises = found.filter((one) =>
    one.modelId === undefined
      ? everywhere.has(one.causeId) || !isExplained(counts, one, onModels)
      : !everywhere.has(one.causeId),
  );
  return {
    rises: rises.map(({ causeId, modelId, now, before, falseShare, exposure }) => ({
      causeId,
      modelId,
      now,
      before,
      falseShare,
      season: counts.season(causeId),
      comparison: compareRates(
        { events: now.concerns, exposure: exposure.now },
        { events: before.concerns, exposure: exposure.before },
      ),
    })),
    asked: asked.length,
    tested: tested.length,
  };
}

interface Looked extends Pick<Rise, 'causeId' | 'modelId' | 'now' | 'before'> {
  readonly exposure: { readonly now: number; readonly before: number };
  readonly pRise: number;
}

function look(
  counts: Counts,
  causeId: string | null,
  modelId: Model,
  without: readonly Model[] = [],
): Looked | null {
  const season = counts.season(causeId);
  const mine = counts
    .pairs(causeId)
    .filter((pair) => (modelId === undefined ? !without.includes(pair.modelId) : pair.modelId === modelId));
  const side = (isLate: boolean) => {
    const { visits, byMonth } = counts.visits(isLate, modelId, without);
    return {
      concerns: mine.reduce((sum, pair) => sum + (isLate ? pair.now : total(pair.before)), 0),
      visits,
      exposure: byMonth.reduce((sum, n, month) => sum + n * (season[month] ?? 1), 0),
    };
  };
  const now = side(true);
  const before = side(false);
  if (now.exposure <= 0 || before.exposure <= 0) return null;
  const share = now.exposure / (now.exposure + before.exposure);
  const all = now.concerns + before.concerns;
  if (smallestRise(all, share) > reach) return null;
  return {
    causeId,
    modelId,
    now: { concerns: now.concerns, visits: now.visits },
    before: { concerns: before.concerns, visits: before.visits },
    exposure: { now: now.exposure, before: before.exposure },
    pRise: binomialAtLeast(now.concerns, all, share),
  };
}

/** Whether most models that came in show a rise by themselves: it is then told once, for all of them. */
function isEverywhere(counts: Counts, all: Looked, onModels: readonly Looked[]): boolean {
  const rising = onModels.filter((one) => one.causeId === all.causeId).length;
  return rising > 1 && rising > counts.modelsNow() / 2;
}

/** Whether nothing is left of a rise over all models once the models on which it was found are taken away. */
function isExplained(counts: Counts, all: Looked, onModels: readonly Looked[]): boolean {
  const models = onModels.filter((one) => one.causeId === all.causeId).map((one) => one.modelId);
  if (models.length === 0) return false;
  const rest = look(counts, all.causeId, undefined, models);
  return rest === null || rest.pRise > falseShareAllowed;
}

/** Looks back so many months for the stretch that stands out. */
const back = 24;

/**
 * The stretch of months of the last two years in which a rise stands out most: the largest likelihood ratio of a higher
 * rate inside than outside. It is estimated after the rise was found, not tested.
 * @param cells concerns and visits of the same cause and machines; a month may come more than once
 */
export function standingOut(
  season: readonly number[],
  cells: readonly { readonly month: number; readonly concerns: number; readonly visits: number }[],
): MonthsOut | null {
  const concerns = new Map<number, number>();
  const exposure = new Map<number, number>();
  for (const { month, concerns: n, visits } of cells) {
    concerns.set(month, (concerns.get(month) ?? 0) + n);
    exposure.set(month, (exposure.get(month) ?? 0) + visits * (season[calendar(month)] ?? 1));
  }
  const months = [...exposure.keys()].sort((a, b) => a - b);
  const allConcerns = total([...concerns.values()]);
  const allExposure = total([...exposure.values()]);
  const last = months.at(-1);
  if (last === undefined || allConcerns === 0) return null;
  const term = (n: number, e: number): number => (n === 0 ? 0 : n * Math.log(n / e));
  let best: (MonthsOut & { readonly gain: number }) | null = null;
  for (const from of months.filter((month) => month > last - back)) {
    let n = 0;
    let e = 0;
    for (const until of months.filter((month) => month >= from)) {
      n += concerns.get(until) ?? 0;
      e += exposure.get(until) ?? 0;
      const restN = allConcerns - n;
      const restE = allExposure - e;
      if (e <= 0 || restE <= 0 || n / e <= restN / restE) continue;
      const gain = term(n, e) + term(restN, restE) - term(allConcerns, allExposure);
      if (!best || gain > best.gain) best = { from, until, concerns: n, gain };
    }
  }
  return best && { from: best.from, until: best.until, concerns: best.concerns };
}
