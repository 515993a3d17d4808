import type { Plan, Ranking, ReadingInput } from '../diagnosis/index.ts';
import { type ConcernRow, findVehicle, type JobCard, keepShown } from '../store/index.ts';
import type { Desk } from './desk.ts';
import { planFor, rankingFor } from './diagnosing.ts';

/** What a concern could be and what to do next, from the readings that stand on the card. */

async function questionOf(desk: Desk, card: JobCard, concern: ConcernRow) {
  const vehicle = card.job.vehicle_id === null ? undefined : await findVehicle(desk.db, card.job.vehicle_id);
  const { book } = await desk.book();
  // A model that left the book since is a machine not known.
  const modelId =
    vehicle?.model_id && book.models.has(vehicle.model_id as never) ? vehicle.model_id : undefined;
  const standing = card.readings.filter((row) => row.concern_id === concern.id && row.undone_ms === null);
  const readings = standing.flatMap((row) =>
    row.reading === null ? [] : [JSON.parse(row.reading) as ReadingInput],
  );
  return {
    modelId,
    // A check that left the book since no longer speaks.
    readings: readings.filter(
      (reading) => 'circuitId' in reading || book.checks.has(reading.checkId as never),
    ),
    skipped: standing.flatMap((row) => (row.skipped !== null && row.check_id !== null ? [row.check_id] : [])),
  };
}

export async function benchOf(
  desk: Desk,
  card: JobCard,
  concern: ConcernRow,
): Promise<{ ranking: Ranking | null; plan: Plan | null }> {
  const { book } = await desk.book();
  if (concern.symptom_id === null || !book.symptoms.has(concern.symptom_id as never))
    return { ranking: null, plan: null };
  const question = { symptomId: concern.symptom_id, ...(await questionOf(desk, card, concern)) };
  return { ranking: await rankingFor(desk, question), plan: await planFor(desk, question) };
}

/**
 * Keeps the ranking and the first checks of the plan as people saw them: whether the book was right can only be asked
 * of what it showed.
 */
export async function keepWhatIsShown(
  desk: Desk,
  card: JobCard,
  concern: ConcernRow,
  moment: 'opened' | 'reading' | 'closed',
): Promise<void> {
  const { ranking, plan } = await benchOf(desk, card, concern);
  if (!ranking) return;
  const slim = {
    causes: ranking.causes.map((cause) => [cause.causeId, Number(cause.probability.toFixed(5))]),
    unlisted: Number(ranking.unlisted.toFixed(5)),
    contradiction: ranking.contradiction !== undefined,
  };
  const slimPlan = plan && {
    first: plan.first?.id ?? null,
    checks: plan.checks.slice(0, 3).map((check) => [check.checkId, check.minutes]),
    conclude: plan.conclude?.causeId ?? null,
    expectedMinutes: plan.expectedMinutes,
  };
  await keepShown(desk.db, {
    concern_id: concern.id,
    moment,
    at_ms: desk.now().ms,
    book_version: ranking.bookVersion,
    ranking: JSON.stringify(slim),
    plan: slimPlan ? JSON.stringify(slimPlan) : null,
  });
}
