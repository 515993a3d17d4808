import {
  type Book,
  type Cause,
  type Check,
  existsOn,
  fitsSymptom,
  type MachineTraits,
  type Symptom,
} from '../book/index.ts';
import type { CauseId, CheckId } from '../terms.ts';

/** Least difference of one outcome's chance at which a check is worth anything between two causes. Common practice, no source. */
export const leastDifference = 0.15;

/** What the wiring says a check shows: chances in the order of its outcomes; null where the table counts. A null cause is healthy. */
export type WiringChances = (checkId: CheckId, causeId: CauseId | null) => readonly number[] | null;

/**
 * Chances of a check's outcomes under a cause, in the order of its outcomes. What `when` leaves over is shared among the
 * outcomes it does not name, as on a healthy machine; a cause that it does not name reads healthy.
 */
export function tableChances(
  check: Check,
  causeId: CauseId | null,
  wiring?: WiringChances,
): readonly number[] {
  const computed = wiring?.(check.id, causeId);
  if (computed) return computed;
  const healthy = check.outcomes.map((outcome) => outcome.healthy);
  const named = causeId === null ? undefined : check.when[causeId];
  if (!named) return healthy;
  let written = 0;
  let rest = 0;
  let unnamed = 0;
  check.outcomes.forEach((outcome) => {
    const chance = named[outcome.id];
    if (chance === undefined) {
      rest += outcome.healthy;
      unnamed++;
    } else written += chance;
  });
  const left = Math.max(0, 1 - written);
  return check.outcomes.map(
    (outcome) =>
      named[outcome.id] ?? (rest > 0 ? (left * outcome.healthy) / rest : left / Math.max(1, unnamed)),
  );
}

/** The machines the lint looks at: the models of the book; any machine at all where the book has none. */
export function machinesOf(book: Book): readonly (MachineTraits | undefined)[] {
  const models = [...book.models.values()].map((model) => model.traits);
  return models.length > 0 ? models : [undefined];
}

/** How causes and checks of one book can meet and be told apart; keeps what it computed. */
export class Separator {
  private readonly machines: readonly (MachineTraits | undefined)[];
  private readonly checksOf = new Map<CauseId, Check[]>();
  private readonly probing: Check[] = [];
  private readonly chances = new Map<Check, Map<CauseId | null, readonly number[]>>();
  private readonly wiring: WiringChances | undefined;

  constructor(book: Book, wiring?: WiringChances) {
    this.machines = machinesOf(book);
    this.wiring = wiring;
    for (const check of book.checks.values()) {
      if (wiring && check.probes.length > 0) this.probing.push(check);
      for (const causeId of Object.keys(check.when) as CauseId[]) {
        this.checksOf.set(causeId, [...(this.checksOf.get(causeId) ?? []), check]);
      }
    }
  }

  /** Some machine of the book can have all of these. */
  meet(...things: readonly (Cause | Check)[]): boolean {
    return this.machines.some((machine) => things.every((thing) => existsOn(thing.on, machine)));
  }

  separates(check: Check, one: Cause, other: Cause | null): boolean {
    const a = this.chancesOf(check, one.id);
    const b = this.chancesOf(check, other?.id ?? null);
    return a.some((chance, index) => Math.abs(chance - (b[index] ?? 0)) >= leastDifference - 1e-9);
  }

  /** Checks that tell two causes apart on a machine that can have both. */
  checksBetween(one: Cause, other: Cause): Check[] {
    const candidates = new Set([
      ...(this.checksOf.get(one.id) ?? []),
      ...(this.checksOf.get(other.id) ?? []),
      ...this.probing,
    ]);
    return [...candidates].filter(
      (check) => this.separates(check, one, other) && this.meet(check, one, other),
    );
  }

  private chancesOf(check: Check, causeId: CauseId | null): readonly number[] {
    let ofCheck = this.chances.get(check);
    if (!ofCheck) {
      ofCheck = new Map();
      this.chances.set(check, ofCheck);
    }
    let found = ofCheck.get(causeId);
    if (!found) {
      found = tableChances(check, causeId, this.wiring);
      ofCheck.set(causeId, found);
    }
    return found;
  }
}

export interface SymptomView {
  readonly symptom: Symptom;
  readonly causes: readonly Cause[];
  /** Checks that separate two of its causes; where it has one cause, that cause from a healthy machine. */
  readonly checks: ReadonlySet<Check>;
  /** Largest groups of causes in which no check separates any two. */
  readonly groups: readonly (readonly Cause[])[];
}

/** What the book can do for one symptom. */
export function viewSymptom(book: Book, symptom: Symptom, separator: Separator): SymptomView {
  const causes = symptom.priors.flatMap((prior) => book.causes.get(prior.causeId) ?? []);
  const checks = new Set<Check>();
  const alike = new Map<Cause, Set<Cause>>(causes.map((cause) => [cause, new Set()]));
  causes.forEach((one, index) => {
    for (const other of causes.slice(index + 1)) {
      if (!separator.meet(one, other)) continue;
      const between = separator.checksBetween(one, other).filter((check) => fitsSymptom(check, symptom));
      for (const check of between) checks.add(check);
      if (between.length === 0) {
        alike.get(one)?.add(other);
        alike.get(other)?.add(one);
      }
    }
  });
  const [only] = causes;
  if (only && causes.length === 1) {
    for (const check of book.checks.values()) {
      if (
        fitsSymptom(check, symptom) &&
        separator.separates(check, only, null) &&
        separator.meet(check, only)
      )
        checks.add(check);
    }
  }
  return { symptom, causes, checks, groups: largestCliques(alike) };
}

/** Maximal cliques of two or more (Bron and Kerbosch 1973, with pivot); a symptom has a dozen causes at most. */
function largestCliques(neighbors: ReadonlyMap<Cause, ReadonlySet<Cause>>): Cause[][] {
  const found: Cause[][] = [];
  const near = (cause: Cause): ReadonlySet<Cause> => neighbors.get(cause) ?? new Set();
  const grow = (clique: Cause[], open: readonly Cause[], done: readonly Cause[]): void => {
    const [pivot] = [...open, ...done];
    if (!pivot) {
      if (clique.length > 1) found.push(clique);
      return;
    }
    const left = new Set(open);
    const seen = [...done];
    for (const cause of open.filter((each) => !near(pivot).has(each))) {
      grow(
        [...clique, cause],
        [...left].filter((each) => near(cause).has(each)),
        seen.filter((each) => near(cause).has(each)),
      );
      left.delete(cause);
      seen.push(cause);
    }
  };
  grow([], [...neighbors.keys()], []);
  return found;
}
