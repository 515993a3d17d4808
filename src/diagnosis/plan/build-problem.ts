import type { Cause, Check } from '../../book/index.ts';
import { existsOn, fitsSymptom } from '../../book/index.ts';
import type { CheckId } from '../../terms.ts';
import type { Diagnosis } from '../diagnose.ts';
import { meanChances } from '../evidence.ts';
import { accessMinutes, leastPart, otherAccessMinutes } from './access.ts';
import type { PlanCheck, PlanProblem } from './plan-state.ts';
import type { PreconditionState } from './preconditions.ts';

/** Money and time of the shop, in one currency. */
export interface ShopCosts {
  /** What a minute of labor costs, in units of the currency, above 0. */
  readonly laborPerMinute: number;
  /** Price of one part of a kind, in units of the currency; null where nobody knows: then the book's typical price counts. */
  readonly partPrice: (kind: string) => number | null;
}

/** Minutes put down for a cause that the book does not list: a search by hand. Common practice, no source. */
export const unlistedSearchMinutes = 120;
/** Waiting (charging, cooling down) counts as this part of touch time: the bench does something else meanwhile. */
export const waitPart = 0.25;
/** A question that a customer answers on the phone takes no bench time; it counts as this part. */
export const phonePart = 0.5;

/** Cost of a cause's parts in minutes of labor. */
export function partMinutes(diagnosis: Diagnosis, cause: Cause, costs: ShopCosts): number {
  let money = 0;
  for (const need of cause.repair.parts) {
    const typical = Number(diagnosis.book.partKinds.get(need.kind)?.typicalPrice ?? 0);
    money += (costs.partPrice(need.kind) ?? (Number.isFinite(typical) ? typical : 0)) * need.quantity;
  }
  return Math.max(0, money) / costs.laborPerMinute;
}

/** The checks of the book that could tell the causes apart on this machine, apart from those already done or skipped. */
export function candidateChecks(diagnosis: Diagnosis, leftOut: ReadonlySet<CheckId>): Check[] {
  const { book, causes, model, symptom, wiring } = diagnosis;
  const ids = causes.map((cause) => cause.id);
  const found: Check[] = [];
  for (const check of book.checks.values()) {
    if (leftOut.has(check.id) || !existsOn(check.on, model?.traits) || !fitsSymptom(check, symptom)) continue;
    const sees = ids.some((id) => check.when[id] !== undefined) || wiring?.chancesFor(check.id, null);
    if (sees) found.push(check);
  }
  return found;
}

export interface BuiltProblem {
  readonly problem: PlanProblem;
  /** Bits of what is open and settled now. */
  readonly setup: number;
  /** Part money of each cause, minutes. */
  readonly partMinutes: Float64Array;
}

/** Puts causes, checks, access and open preconditions into numbers for the policy. */
export function buildProblem(
  diagnosis: Diagnosis,
  checks: readonly Check[],
  costs: ShopCosts,
  openAccess: ReadonlySet<string>,
  states: ReadonlyMap<string, PreconditionState>,
): BuiltProblem {
  const { book, causes, wiring, evidence } = diagnosis;
  const width = causes.length + 1;
  const repairCost = new Float64Array(width);
  const repairMinutes = new Float64Array(width);
  const parts = new Float64Array(width);
  causes.forEach((cause, k) => {
    parts[k] = partMinutes(diagnosis, cause, costs);
    repairMinutes[k] = Math.max(cause.repair.minutes, 0.5);
    repairCost[k] = (repairMinutes[k] as number) + (parts[k] as number);
  });
  repairCost[width - 1] = unlistedSearchMinutes;
  repairMinutes[width - 1] = unlistedSearchMinutes;

  const bits = new Map<string, number>();
  /** A bit for a word; 0 beyond 30 words, which then bring no saving. */
  const bitOf = (word: string): number => {
    const known = bits.get(word);
    if (known !== undefined) return known;
    const bit = bits.size < 30 ? 1 << bits.size : 0;
    bits.set(word, bit);
    return bit;
  };
  const settledBy = new Map<CheckId, string>();
  for (const precondition of book.preconditions.values())
    settledBy.set(precondition.checkId, precondition.id);

  const planned = checks.map((check): PlanCheck => {
    const part = check.phone && check.kind === 'ask' ? phonePart : 1;
    const chances = new Float64Array(check.outcomes.length * width);
    for (let k = 0; k < width; k++) {
      const weights = evidence.severities[k] as readonly number[];
      meanChances(check, causes[k] ?? null, wiring, weights).forEach((chance, outcome) => {
        chances[outcome * width + k] = chance;
      });
    }
    const extras = check.needs.flatMap((id) => {
      const precondition = book.preconditions.get(id);
      const own = precondition && book.checks.get(precondition.checkId);
      if (!own || own.id === check.id || states.get(id) !== 'unknown') return [];
      return [{ bit: bitOf(`settled ${id}`), minutes: own.minutes + waitPart * own.waitMinutes }];
    });
    const settles = settledBy.get(check.id);
    let sets = settles === undefined ? 0 : bitOf(`settled ${settles}`);
    for (const word of check.access) sets |= bitOf(word);
    for (const { bit } of extras) sets |= bit;
    return {
      cost: part * check.minutes + waitPart * check.waitMinutes,
      leastCost: part * check.minutes * leastPart + waitPart * check.waitMinutes,
      savings: check.access.map((word) => ({
        bit: bitOf(word),
        minutes: part * (accessMinutes[word] ?? otherAccessMinutes),
      })),
      extras,
      sets,
      outcomes: check.outcomes.length,
      chances,
    };
  });
  let setup = 0;
  for (const word of openAccess) setup |= bits.get(word) ?? 0;
  return { problem: { width, repairCost, repairMinutes, checks: planned }, setup, partMinutes: parts };
}
