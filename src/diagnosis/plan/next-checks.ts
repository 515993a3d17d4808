import type { Cause, Check, Precondition } from '../../book/index.ts';
import type { CauseId, CheckId } from '../../terms.ts';
import { findContradiction } from '../contradiction.ts';
import { type Diagnosis, diagnose, type RankInput } from '../diagnose.ts';
import { meanChances } from '../evidence.ts';
import { minutesLeft } from './access.ts';
import { type BuiltProblem, buildProblem, candidateChecks, type ShopCosts } from './build-problem.ts';
import { checkReason, lowerFirst } from './check-reason.ts';
import { type CheckView, checkView } from './check-view.ts';
import { informationOf, type PlanCheck } from './plan-state.ts';
import { type Valuation, type ValuedCheck, valueChecks } from './policy.ts';
import { dueBefore, type PreconditionState, preconditionStates } from './preconditions.ts';
import { repairOrder } from './repair-order.ts';
import { savingOf } from './saving.ts';

export interface PlanInput extends RankInput, ShopCosts {
  /** Checks done without a reading that is handed in; they are not offered again, and their access counts as open. */
  readonly done?: readonly CheckId[] | undefined;
  /** Checks a person will not do (no tool); a precondition skipped like this is taken as met. */
  readonly skipped?: readonly CheckId[] | undefined;
  /** Access words that are open besides those of done checks. */
  readonly access?: readonly string[] | undefined;
  /** How many checks to return at most; 12 when absent. */
  readonly limit?: number | undefined;
}

export interface PreconditionView {
  readonly id: string;
  readonly title: string;
  readonly because: string;
  readonly checkId: CheckId;
  readonly otherwise: string;
  readonly elapsedMinutes: number;
}

export interface Conclusion {
  readonly causeId: CauseId;
  readonly title: string;
  readonly why: string;
}

export interface Plan {
  /** Best first; empty when nothing is left that separates the causes. */
  readonly checks: CheckView[];
  /** What must be so before the checks mean anything; do this first. */
  readonly first?: PreconditionView;
  /** Set where repairing now is better than any further check. */
  readonly conclude?: Conclusion;
  /** Hands-on minutes to the repaired cause on the planned way, repair included. */
  readonly expectedMinutes: number;
}

/** A check that tells less than this about the cause separates nothing, bits. */
export const leastInformation = 0.002;
/** Part money beyond this many minutes of labor is never spent as a test … */
const dearPartMinutes = 10;
/** … unless the cause is at least this likely. */
const sureEnough = 0.8;
/** A check that tells less than this, bits, is no reason to put off an expensive part. */
const worthWaitingFor = 0.05;
/** A failing precondition is told when it holds up one of the best checks. */
const heldUpAmong = 3;

/**
 * The checks that save most time, best first, after hard preconditions: least expected total of minutes and part money
 * by one-step lookahead and a rollout, repairs in order of probability over cost. Checks that separate nothing are left
 * out; fitting an expensive part is never the test. Throws as `rankCauses`.
 * Sources: Breese and Heckerman 1996; Kalagnanam and Henrion 1988; METHOD.md.
 */
export function nextChecks(input: PlanInput): Plan {
  const diagnosis = diagnose(input);
  const { book, model, evidence, probabilities: belief } = diagnosis;
  const skipped = new Set(input.skipped ?? []);
  const done = new Set(input.done ?? []);
  for (const { check } of evidence.facts) if (check) done.add(check.id);
  const open = new Set(input.access ?? []);
  for (const id of done) for (const word of book.checks.get(id)?.access ?? []) open.add(word);

  const states = preconditionStates(book, model?.traits, evidence.facts, skipped);
  const candidates = candidateChecks(diagnosis, new Set([...done, ...skipped]));
  const whole = buildProblem(diagnosis, candidates, input, open, states);
  const telling = candidates
    .map((check, place) => ({ check, planned: whole.problem.checks[place] as PlanCheck }))
    .filter(({ planned }) => informationOf(whole.problem, planned, belief) > leastInformation);
  const built: BuiltProblem = {
    ...whole,
    problem: { ...whole.problem, checks: telling.map((one) => one.planned) },
  };
  const checks = telling.map((one) => one.check);

  const failing = checks.map((check) => check.needs.some((id) => states.get(id) === 'failed'));
  const heldUp = new Set(checks.map((_, place) => place).filter((place) => failing[place]));
  const valuation = valueChecks(built.problem, belief, built.setup, heldUp);
  const contradiction = findContradiction(evidence, diagnosis.causes);

  const first = duePrecondition(diagnosis, built, valuation, checks, heldUp, states);
  const conclusion =
    contradiction || (first && states.get(first.id) === 'failed')
      ? null
      : concludeNow(diagnosis, built, valuation);
  const limit = input.limit ?? 12;
  const views = valuation.checks
    .slice(0, limit)
    .map((valued) => viewOf(diagnosis, built, checks, valued, open));
  const repeat =
    contradiction?.repeat == null ? undefined : repeatView(diagnosis, contradiction.repeat, open);
  const ahead =
    first && states.get(first.id) === 'unknown' ? aheadView(diagnosis, first, views, open) : undefined;
  const leading = [repeat, ahead].filter((view) => view !== undefined);
  return {
    checks: [
      ...leading,
      ...views.filter((view) => !leading.some((one) => one.checkId === view.checkId)),
    ].slice(0, limit),
    ...(first ? { first: preconditionView(first) } : {}),
    ...(conclusion ? { conclude: conclusion } : {}),
    expectedMinutes: Math.round(valuation.minutes * 10) / 10,
  };
}

/** Asked only when a check that needs it is the best one left, or is among the best and held up by its failing. */
function duePrecondition(
  diagnosis: Diagnosis,
  built: BuiltProblem,
  valuation: Valuation,
  checks: readonly Check[],
  heldUp: ReadonlySet<number>,
  states: ReadonlyMap<string, PreconditionState>,
): Precondition | undefined {
  const { book, probabilities } = diagnosis;
  const best = valuation.checks[0];
  if (heldUp.size > 0) {
    const all = valueChecks(built.problem, probabilities, built.setup);
    for (const { place, lookahead } of all.checks.slice(0, heldUpAmong)) {
      if (!heldUp.has(place) || lookahead >= all.repairNow) continue;
      const due = dueBefore(book, states, checks[place] as Check);
      if (due && states.get(due.id) === 'failed') return due;
    }
  }
  const check = best && checks[best.place];
  return check ? dueBefore(book, states, check) : undefined;
}

/** Repair now when no check pays for itself; an expensive part only when its cause is likely enough or nothing tells more. */
function concludeNow(diagnosis: Diagnosis, built: BuiltProblem, valuation: Valuation): Conclusion | null {
  const { causes, probabilities } = diagnosis;
  const { repairCost, width } = built.problem;
  const best = valuation.checks[0];
  const pays =
    best && Math.min(best.lookahead, best.rollout ?? Number.POSITIVE_INFINITY) < valuation.repairNow - 1e-6;
  if (pays) return null;
  const listed = repairOrder(probabilities, repairCost).filter((k) => k < width - 1);
  const dear = (k: number): boolean => (built.partMinutes[k] as number) > dearPartMinutes;
  const sure = (k: number): boolean => (probabilities[k] as number) >= sureEnough;
  const hasChecks = valuation.checks.some(
    ({ place }) =>
      informationOf(built.problem, built.problem.checks[place] as PlanCheck, probabilities) > worthWaitingFor,
  );
  const place = hasChecks ? listed.find((k) => !dear(k) || sure(k)) : listed[0];
  if (place === undefined) return null;
  // With a likelier cause behind an expensive part, the checks that are left come before it.
  if (hasChecks && place !== listed[0]) return null;
  if ((probabilities[width - 1] as number) > 0.5) return null;
  const cause = causes[place] as Cause;
  const percent = Math.round(100 * (probabilities[place] as number));
  const why = hasChecks
    ? `At ${percent} %, ${lowerFirst(cause.repair.title)} (${cause.repair.minutes} min) costs less than any further check saves.`
    : `No check is left that tells much more; this one leads with ${percent} %.`;
  return { causeId: cause.id, title: cause.title, why };
}

function viewOf(
  diagnosis: Diagnosis,
  built: BuiltProblem,
  checks: readonly Check[],
  valued: ValuedCheck,
  open: ReadonlySet<string>,
): CheckView {
  const { book, causes, probabilities } = diagnosis;
  const check = checks[valued.place] as Check;
  const planned = built.problem.checks[valued.place] as PlanCheck;
  const saving = savingOf(built.problem, planned, probabilities, built.setup);
  const why = checkReason(book, causes, planned, probabilities, saving);
  return plainView(diagnosis, check, check.phone ? `${why} The customer can answer it.` : why, open);
}

/** The reading to repeat, put before everything else. */
function repeatView(diagnosis: Diagnosis, repeat: number, open: ReadonlySet<string>): CheckView | undefined {
  const check = diagnosis.evidence.facts.find((fact) => fact.place === repeat)?.check;
  if (!check) return undefined;
  return plainView(
    diagnosis,
    check,
    'Repeat it: no single cause explains all readings, and this one decides most.',
    open,
  );
}

/** The check of a precondition that nobody settled yet, put before the check that needs it. */
function aheadView(
  diagnosis: Diagnosis,
  first: Precondition,
  views: readonly CheckView[],
  open: ReadonlySet<string>,
): CheckView | undefined {
  const known = views.find((view) => view.checkId === first.checkId);
  if (known) return known;
  const check = diagnosis.book.checks.get(first.checkId);
  return check && plainView(diagnosis, check, `${first.title} first: ${lowerFirst(first.because)}`, open);
}

function plainView(diagnosis: Diagnosis, check: Check, why: string, open: ReadonlySet<string>): CheckView {
  const { book, causes, probabilities, wiring, evidence, model } = diagnosis;
  const chances = new Array<number>(check.outcomes.length).fill(0);
  for (let k = 0; k <= causes.length; k++) {
    const weights = evidence.severities[k] as readonly number[];
    meanChances(check, causes[k] ?? null, wiring, weights).forEach((chance, place) => {
      chances[place] = (chances[place] as number) + (probabilities[k] as number) * chance;
    });
  }
  const expected = wiring
    ? causes.flatMap((cause) => {
        const shows = wiring.expectedWords(check.id, cause.id);
        return shows === null ? [] : [{ causeId: cause.id, title: cause.title, shows }];
      })
    : [];
  const probe = model
    ? check.probes.find((one) => model.circuitIds.includes(one.circuitId))
    : check.probes[0];
  return checkView(book, check, { minutes: minutesLeft(check, open), why, chances, probe, expected });
}

function preconditionView(precondition: Precondition): PreconditionView {
  const { id, title, because, checkId, otherwise, elapsedMinutes } = precondition;
  return { id, title, because, checkId, otherwise, elapsedMinutes };
}
