import { type Book, type Cause, type Check, candidateCauses, existsOn, type Model } from '../book/index.ts';
import type { CauseId, SymptomId } from '../terms.ts';
import type { Dice } from './dice.ts';
import type { DemoJob, DemoShop } from './make-shop.ts';

/** A check that somebody recorded on a job. */
export interface DemoReading {
  /** Place of the job. */
  readonly job: number;
  readonly atMs: number;
  readonly check: Check;
  readonly outcomeId: string;
}

/** The share of closed jobs on which the invented shop wrote its checks down. */
const recorded = 0.4;
/** Cards on which somebody has begun to look. */
const begun = new Set([
  'diagnosing',
  'awaiting-approval',
  'waiting-for-parts',
  'on-charge',
  'in-work',
  'final-check',
]);

/** Checks that are answered with a word, and know something of a symptom's causes on a machine. */
function usable(book: Book, symptomId: SymptomId, model: Model): Check[] {
  const symptom = book.symptoms.get(symptomId);
  if (!symptom) return [];
  const causes = candidateCauses(book, symptom, model.traits).map(({ cause }) => cause.id);
  return [...book.checks.values()].filter(
    (check) =>
      check.quantity === null &&
      check.probes.length === 0 &&
      existsOn(check.on, model.traits) &&
      causes.some((causeId) => check.when[causeId] !== undefined),
  );
}

/** Draws an outcome as the book says that a cause shows itself; what it leaves over is as on a healthy machine. */
function outcomeOf(check: Check, cause: Cause | undefined, dice: Dice): string {
  const healthy = check.outcomes.map((one) => one.healthy);
  const said = cause && check.when[cause.id];
  const shown = said !== undefined && dice.chance(cause?.showsWith ?? 1);
  const given = shown ? check.outcomes.map((one) => said[one.id]) : healthy;
  const left = Math.max(0, 1 - given.reduce<number>((sum, chance) => sum + (chance ?? 0), 0));
  const base = healthy.reduce((sum, chance, place) => sum + (given[place] === undefined ? chance : 0), 0);
  const weights = given.map(
    (chance, place) => chance ?? (base > 0 ? (left * (healthy[place] ?? 0)) / base : 0),
  );
  const place = weights.some((weight) => weight > 0) ? dice.weighted(weights) : 0;
  return check.outcomes[place]?.id ?? '';
}

/** Checks as recorded on a share of the jobs: a few that are quick, the last one about the cause that was found. */
export function drawChecks(book: Book, shop: DemoShop, dice: Dice): DemoReading[] {
  const known = new Map<string, Check[]>();
  const checksFor = (job: DemoJob): Check[] => {
    const model = book.models.get((shop.vehicles[job.vehicle]?.modelId ?? '') as Model['id']);
    if (!model) return [];
    const key = `${job.symptomId} ${model.id}`;
    const found = known.get(key) ?? usable(book, job.symptomId, model);
    known.set(key, found);
    return found;
  };
  return shop.jobs.flatMap((job, place) => {
    const isRecorded = job.closedMs === null ? begun.has(job.status) : dice.chance(recorded);
    if (!isRecorded) return [];
    const cause = book.causes.get((job.causes[0]?.causeId ?? '') as CauseId);
    const all = checksFor(job);
    const wanted = dice.whole(1, job.closedMs === null ? 2 : 4);
    const chosen: Check[] = [];
    const rest = [...all];
    while (chosen.length < wanted && rest.length > 0) {
      const next = rest.splice(dice.weighted(rest.map((check) => 1 / check.minutes)), 1)[0];
      if (next) chosen.push(next);
    }
    const telling = cause && all.find((check) => check.when[cause.id] && !chosen.includes(check));
    if (telling && chosen.length > 0) chosen.push(telling);
    const endMs = job.openedMs + (job.minutes ?? 40) * 60_000;
    let spent = 0;
    return chosen.map((check) => {
      spent += check.minutes;
      const atMs = Math.min(job.openedMs + spent * 60_000, job.closedMs ?? endMs);
      return { job: place, atMs, check, outcomeId: outcomeOf(check, cause, dice) };
    });
  });
}
