import { compareRates, type RateComparison, smallestRise } from './compare-rates.ts';
import { falseDiscovery } from './false-discovery.ts';

/** Proven concerns of one month, model and cause; null is a model not known, or a cause that the book lacks. */
export interface CauseCell {
  /** Year × 12 + month, January 0. */
  readonly month: number;
  /** In the period that is asked about; the rest is what came before it. */
  readonly isLate: boolean;
  readonly modelId: string | null;
  readonly causeId: string | null;
  readonly concerns: number;
}

export interface VisitCell {
  readonly month: number;
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
  /** The stretch of months that stands out most; estimated after the rise was found, not tested. */
  readonly months: { readonly from: number; readonly until: number; readonly concerns: number } | null;
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

class Cells {
  readonly #causes: readonly CauseCell[];
  readonly #visits: readonly VisitCell[];
  readonly #season = new Map<string | null, readonly number[]>();

  constructor(causes: readonly CauseCell[], visits: readonly VisitCell[]) {
    this.#causes = causes;
    this.#visits = visits;
  }

  /** Each calendar month's share of a cause relative to the whole year, from what came before, all models together. */
  season(causeId: string | null): readonly number[] {
    const known = this.#season.get(causeId);
    if (known) return known;
    const visits = Array.from({ length: 12 }, () => 0);
    const concerns = Array.from({ length: 12 }, () => 0);
    for (const cell of this.#visits)
      if (!cell.isLate) visits[cell.month % 12] = (visits[cell.month % 12] ?? 0) + cell.visits;
    for (const cell of this.#causes)
      if (!cell.isLate && cell.causeId === causeId)
        concerns[cell.month % 12] = (concerns[cell.month % 12] ?? 0) + cell.concerns;
    const allVisits = visits.reduce((sum, n) => sum + n, 0);
    const rate = allVisits === 0 ? 0 : concerns.reduce((sum, n) => sum + n, 0) / allVisits;
    const made = visits.map((n, month) => ((concerns[month] ?? 0) + seasonDoubt) / (n * rate + seasonDoubt));
    this.#season.set(causeId, made);
    return made;
  }

  concerns(causeId: string | null, modelId: string | null | undefined): readonly CauseCell[] {
    return this.#causes.filter(
      (cell) => cell.causeId === causeId && (modelId === undefined || cell.modelId === modelId),
    );
  }

  visits(modelId: string | null | undefined): readonly VisitCell[] {
    return this.#visits.filter((cell) => modelId === undefined || cell.modelId === modelId);
  }
}

const total = (cells: readonly { readonly concerns: number }[]): number =>
  cells.reduce((sum, cell) => sum + cell.concerns, 0);

/**
 * Causes whose rate per visit rose more than chance and season explain: every cause over all models, and on each model, is
 * compared with all that came before by the exact conditional test (one side), visits weighted with the season of the cause,
 * corrected for looking at many. A rise over all models that some models
 * explain is named on those; one that most models show is named once, for all.
 */
export function findRises(causes: readonly CauseCell[], visits: readonly VisitCell[]): RisesFound {
  const cells = new Cells(causes, visits);
  const asked = new Map<string, { causeId: string | null; modelId: string | null | undefined }>();
  for (const { causeId, modelId } of causes) {
    asked.set(JSON.stringify([causeId]), { causeId, modelId: undefined });
    asked.set(JSON.stringify([causeId, modelId]), { causeId, modelId });
  }
  const looked = [...asked.values()].map((one) => look(cells, one.causeId, one.modelId));
  const tested = looked.filter((one) => one !== null);
  const corrected = falseDiscovery(tested.map((one) => one.comparison.pRise));
  const found = tested
    .map((one, place) => ({ ...one, falseShare: corrected[place] ?? 1 }))
    .filter((one) => one.falseShare <= falseShareAllowed && one.now.concerns >= fewest)
    .sort((a, b) => a.comparison.pRise - b.comparison.pRise);
  const onModels = found.filter((one) => one.modelId !== undefined);
  const everywhere = new Set(
    found
      .filter((one) => one.modelId === undefined && isEverywhere(cells, one, onModels))
      .map((one) => one.causeId),
  );
  const rises = found.filter((one) =>
    one.modelId === undefined
      ? everywhere.has(one.causeId) || !isExplained(cells, one, onModels)
      : !everywhere.has(one.causeId),
  );
  return {
    rises: rises.map((one) => ({ ...one, months: standingOut(cells, one.causeId, one.modelId) })),
    asked: asked.size,
    tested: tested.length,
  };
}

type Looked = Omit<Rise, 'falseShare' | 'months'>;

function look(
  cells: Cells,
  causeId: string | null,
  modelId: string | null | undefined,
  without: readonly (string | null | undefined)[] = [],
): Looked | null {
  const season = cells.season(causeId);
  const mine = cells.concerns(causeId, modelId).filter((cell) => !without.includes(cell.modelId));
  const seen = cells.visits(modelId).filter((cell) => !without.includes(cell.modelId));
  const side = (isLate: boolean) => {
    const part = seen.filter((cell) => cell.isLate === isLate);
    return {
      concerns: total(mine.filter((cell) => cell.isLate === isLate)),
      visits: part.reduce((sum, cell) => sum + cell.visits, 0),
      exposure: part.reduce((sum, cell) => sum + cell.visits * (season[cell.month % 12] ?? 1), 0),
    };
  };
  const now = side(true);
  const before = side(false);
  if (now.exposure <= 0 || before.exposure <= 0) return null;
  const share = now.exposure / (now.exposure + before.exposure);
  if (smallestRise(now.concerns + before.concerns, share) > reach) return null;
  return {
    causeId,
    modelId,
    now: { concerns: now.concerns, visits: now.visits },
    before: { concerns: before.concerns, visits: before.visits },
    comparison: compareRates(
      { events: now.concerns, exposure: now.exposure },
      { events: before.concerns, exposure: before.exposure },
    ),
  };
}

/** Whether most models that came in show a rise by themselves: it is then told once, for all of them. */
function isEverywhere(cells: Cells, all: Looked, onModels: readonly Looked[]): boolean {
  const rising = onModels.filter((one) => one.causeId === all.causeId).length;
  const models = new Set(
    cells
      .visits(undefined)
      .filter((cell) => cell.isLate)
      .map((cell) => cell.modelId),
  );
  return rising > 1 && rising > models.size / 2;
}

/** Whether nothing is left of a rise over all models once the models on which it was found are taken away. */
function isExplained(cells: Cells, all: Looked, onModels: readonly Looked[]): boolean {
  const models = onModels.filter((one) => one.causeId === all.causeId).map((one) => one.modelId);
  if (models.length === 0) return false;
  const rest = look(cells, all.causeId, undefined, models);
  return rest === null || rest.comparison.pRise > falseShareAllowed;
}

/** Looks back so many months for the stretch that stands out. */
const back = 24;

/** The stretch of months with the largest likelihood ratio of a higher rate inside than outside. */
function standingOut(
  cells: Cells,
  causeId: string | null,
  modelId: string | null | undefined,
): Rise['months'] {
  const season = cells.season(causeId);
  const concerns = new Map<number, number>();
  const exposure = new Map<number, number>();
  for (const cell of cells.concerns(causeId, modelId))
    concerns.set(cell.month, (concerns.get(cell.month) ?? 0) + cell.concerns);
  for (const cell of cells.visits(modelId))
    exposure.set(cell.month, (exposure.get(cell.month) ?? 0) + cell.visits * (season[cell.month % 12] ?? 1));
  const months = [...exposure.keys()].sort((a, b) => a - b);
  const allConcerns = [...concerns.values()].reduce((sum, n) => sum + n, 0);
  const allExposure = [...exposure.values()].reduce((sum, n) => sum + n, 0);
  const last = months.at(-1);
  if (last === undefined || allConcerns === 0) return null;
  const term = (n: number, e: number): number => (n === 0 ? 0 : n * Math.log(n / e));
  let best: { from: number; until: number; concerns: number; gain: number } | null = null;
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
