import {
  type Book,
  type Cause,
  existsOn,
  type MachineTraits,
  type Model,
  type Symptom,
  type TallyRow,
  unlistedCause,
} from '../book/index.ts';
import type { CauseId } from '../terms.ts';
import { type ConcentrationLimits, type EvidenceGroup, fitConcentration } from './fit-concentration.ts';

/** Whole concerns on the model, in its engine family, and in the shop. */
export interface ScopeCounts {
  readonly model: number;
  readonly family: number;
  readonly all: number;
}

/** What book and closed jobs together say about a symptom before any reading. */
export interface CauseShares {
  readonly causes: readonly Cause[];
  /** Dirichlet parameters in the order of `causes`, the last one for "not in the book". */
  readonly alphas: Float64Array;
  readonly confirmed: readonly ScopeCounts[];
  readonly of: ScopeCounts;
  /** The concentrations in use: how many concerns the level above is worth. */
  readonly concentration: { readonly all: number; readonly family: number; readonly model: number };
}

/** Limits per level, in concerns. The book is one voice for the whole shop, so its own level is never fitted. */
export const concentrationLimits = {
  all: { floor: 2, ceiling: 200, fallback: 12 },
  family: { floor: 2, ceiling: 200, fallback: 12 },
  model: { floor: 2, ceiling: 200, fallback: 12 },
} as const satisfies Record<string, ConcentrationLimits>;

/** Part of the "not in the book" share that causes proven for this symptom, but not listed for it, take over together. */
const foundShare = 0.25;
const millionth = 1e-6;
/** Starts the key of concerns whose model is unknown and whose engine family is known; no model id starts like it. */
const familyOnly = '?';

interface Group {
  readonly weights: Float64Array;
  concerns: number;
  readonly familyId: string | null;
  readonly traits: MachineTraits | undefined;
}

/**
 * The causes' shares of a symptom as a Dirichlet posterior: the book's priors, shrunk toward all jobs, the engine
 * family and the model; a parent's evidence leaves out the child's own. Only causes that can occur on the machine
 * compete, and "not in the book" always keeps a share. `tally` holds every row of the symptom (weights in millionths).
 * Source: hierarchical Dirichlet shrinkage with fitted concentration (Minka 2000); see METHOD.md.
 */
export function causeShares(
  book: Book,
  symptom: Symptom,
  model: Model | null,
  tally: readonly TallyRow[],
): CauseShares {
  const categories = categoriesOf(book, symptom, tally);
  const { causes, prior, index } = categories;
  const width = prior.length;
  const groups = groupsOf(book, tally, index, width);

  const maskFor = (traits: MachineTraits | undefined, seen?: Float64Array): boolean[] =>
    Array.from({ length: width }, (_, k) => {
      const cause = causes[k];
      return !cause || existsOn(cause.on, traits) || (seen !== undefined && (seen[k] as number) > 0);
    });
  const everything = new Float64Array(width);
  const byFamily = new Map<string, Float64Array>();
  const familyConcerns = new Map<string, number>();
  for (const group of groups.values()) {
    add(everything, group.weights);
    if (group.familyId === null) continue;
    const sum = byFamily.get(group.familyId) ?? new Float64Array(width);
    add(sum, group.weights);
    byFamily.set(group.familyId, sum);
    familyConcerns.set(group.familyId, (familyConcerns.get(group.familyId) ?? 0) + group.concerns);
  }
  const nothing = new Float64Array(width);

  const all = concentrationLimits.all.fallback;
  /** Shares in the shop without one family's (or one stray model's) own evidence. */
  const shopShares = (without: Float64Array, mask: readonly boolean[]): Float64Array =>
    normalized(prior, all, mask, everything, without);

  const familyGroups: EvidenceGroup[] = [...byFamily].map(([familyId, weights]) => ({
    weights,
    base: shopShares(weights, maskFor(book.families.get(familyId as never)?.traits, weights)),
    concerns: familyConcerns.get(familyId) ?? 0,
  }));
  const family = fitConcentration(familyGroups, concentrationLimits.family);

  /** Shares in a family without one model's own evidence; the shop's where the family is unknown. */
  const familyShares = (
    familyId: string | null,
    own: Float64Array,
    mask: readonly boolean[],
  ): Float64Array => {
    if (familyId === null) return shopShares(own, mask);
    const ofFamily = byFamily.get(familyId) ?? nothing;
    return normalized(shopShares(ofFamily, mask), family, mask, ofFamily, own);
  };

  const modelGroups: EvidenceGroup[] = [];
  for (const [modelId, group] of groups) {
    if (modelId === '' || modelId.startsWith(familyOnly)) continue;
    const mask = maskFor(group.traits, group.weights);
    modelGroups.push({
      weights: group.weights,
      base: familyShares(group.familyId, group.weights, mask),
      concerns: group.concerns,
    });
  }
  const modelConcentration = fitConcentration(modelGroups, concentrationLimits.model);

  const mask = maskFor(model?.traits);
  let alphas: Float64Array;
  if (model) {
    const own = groups.get(model.id)?.weights ?? nothing;
    const base = familyShares(model.familyId, own, mask);
    alphas = base.map((share, k) => modelConcentration * share + (mask[k] ? (own[k] as number) : 0));
  } else {
    alphas = prior.map((share, k) => (mask[k] ? all * share + (everything[k] as number) : 0));
  }

  const kept = causes.map((_, k) => k).filter((k) => mask[k]);
  const counts = countScopes(tally, index, width, model);
  return {
    causes: kept.map((k) => causes[k] as Cause),
    alphas: Float64Array.from([...kept, width - 1].map((k) => alphas[k] as number)),
    confirmed: kept.map((k) => counts.confirmed[k] as ScopeCounts),
    of: counts.of,
    concentration: { all, family, model: modelConcentration },
  };
}

/** Every cause that competes somewhere, its prior share, and where a tally row belongs. The last place is "not in the book". */
function categoriesOf(book: Book, symptom: Symptom, tally: readonly TallyRow[]) {
  const causes: Cause[] = [];
  const index = new Map<CauseId, number>();
  const shares: number[] = [];
  for (const { causeId, of100 } of symptom.priors) {
    const cause = book.causes.get(causeId);
    if (!cause || index.has(causeId)) continue;
    index.set(causeId, causes.length);
    causes.push(cause);
    shares.push(of100 / 100);
  }
  const listed = causes.length;
  const rows = tally.filter((row) => row.weight > 0 && !index.has(row.causeId));
  for (const causeId of [...new Set(rows.map((row) => row.causeId))].sort()) {
    const cause = book.causes.get(causeId);
    if (!cause) continue;
    index.set(causeId, causes.length);
    causes.push(cause);
  }
  const found = causes.length - listed;
  const unlisted = Math.max(symptom.unlistedOf100, 0.1) / 100;
  const takenOver = found > 0 ? unlisted * foundShare : 0;
  for (let k = 0; k < found; k++) shares.push(takenOver / found);
  shares.push(unlisted - takenOver);
  index.set(unlistedCause, causes.length);
  const total = shares.reduce((sum, share) => sum + share, 0);
  return { causes, index, prior: Float64Array.from(shares, (share) => share / total) };
}

/** The rows by model; concerns of unknown models gather per engine family, or under '' where that is unknown too. */
function groupsOf(
  book: Book,
  tally: readonly TallyRow[],
  index: ReadonlyMap<CauseId, number>,
  width: number,
): Map<string, Group> {
  const groups = new Map<string, Group>();
  for (const row of tally) {
    const model = row.modelId === null ? undefined : book.models.get(row.modelId);
    const familyId = row.familyId ?? model?.familyId ?? null;
    const key = row.modelId ?? (familyId === null ? '' : `${familyOnly}${familyId}`);
    let group = groups.get(key);
    if (!group) {
      const traits = model?.traits ?? (familyId === null ? undefined : book.families.get(familyId)?.traits);
      group = { weights: new Float64Array(width), concerns: 0, familyId, traits };
      groups.set(key, group);
    }
    const place = index.get(row.causeId) ?? width - 1;
    group.weights[place] = (group.weights[place] as number) + row.weight * millionth;
    group.concerns += row.concerns;
  }
  return groups;
}

function countScopes(
  tally: readonly TallyRow[],
  index: ReadonlyMap<CauseId, number>,
  width: number,
  model: Model | null,
): { confirmed: ScopeCounts[]; of: ScopeCounts } {
  const confirmed = Array.from({ length: width }, () => ({ model: 0, family: 0, all: 0 }));
  const of = { model: 0, family: 0, all: 0 };
  for (const row of tally) {
    const place = confirmed[index.get(row.causeId) ?? width - 1] as {
      model: number;
      family: number;
      all: number;
    };
    for (const counts of [place, of]) {
      counts.all += row.concerns;
      if (model && (row.familyId === model.familyId || row.modelId === model.id))
        counts.family += row.concerns;
      if (model && row.modelId === model.id) counts.model += row.concerns;
    }
  }
  return { confirmed, of };
}

function add(sum: Float64Array, more: Float64Array): void {
  for (let k = 0; k < sum.length; k++) sum[k] = (sum[k] as number) + (more[k] as number);
}

/** Mean of the Dirichlet posterior on the allowed categories: concentration × base + (evidence − what is left out). */
function normalized(
  base: Float64Array,
  concentration: number,
  mask: readonly boolean[],
  evidence: Float64Array,
  without: Float64Array,
): Float64Array {
  const shares = new Float64Array(base.length);
  let allowed = 0;
  for (let k = 0; k < base.length; k++) if (mask[k]) allowed += base[k] as number;
  let total = 0;
  for (let k = 0; k < base.length; k++) {
    if (!mask[k]) continue;
    // Subtracting sums of decimals may leave −1e-17 where nothing is left.
    const rest = Math.max(0, (evidence[k] as number) - (without[k] as number));
    const value = (concentration * (base[k] as number)) / allowed + rest;
    shares[k] = value;
    total += value;
  }
  for (let k = 0; k < shares.length; k++) shares[k] = (shares[k] as number) / total;
  return shares;
}
