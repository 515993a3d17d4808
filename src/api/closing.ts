import { afterClosing, afterReopening, checkClosing, plannedMinutes, type Status } from '../job/index.ts';
import { Problem } from '../problem.ts';
import { type ConcernRow, type JobCard, replaceCauses, updateConcern } from '../store/index.ts';
import type { ModelId } from '../terms.ts';
import { boundTogether, decideAround } from './comebacks.ts';
import type { JobView, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import { changeCard, concernOf } from './job-card.ts';
import { vehicleOr404 } from './people.ts';
import { keepWhatIsShown } from './shown.ts';
import { movingTally } from './tally-keeping.ts';

/** The concern that is meant: the one named, or the only open one. */
function concernToClose(card: JobCard, concernId: string | undefined): ConcernRow {
  if (concernId !== undefined) return concernOf(card, concernId);
  const open = card.concerns.filter((concern) => concern.state === 'open');
  const [only] = open;
  if (open.length === 1 && only) return only;
  throw new Problem(
    open.length === 0 ? 'not-allowed-now' : 'bad-input',
    open.length === 0
      ? `Job ${card.job.number} has no open concern; it was closed already.`
      : `Job ${card.job.number} has ${open.length} open concerns; say which with concernId.`,
    { field: 'concernId' },
  );
}

/** Closes one concern: proof, causes and parts saved, the tally moved and comebacks decided in the same transaction. */
export async function closeConcern(desk: Desk, input: ParsedInputOf<'jobs.close'>): Promise<JobView> {
  return changeCard(desk, input.jobId, input.ifVersion, async (card) => {
    const concern = concernToClose(card, input.concernId);
    if (concern.state === 'closed')
      throw new Problem(
        'not-allowed-now',
        `This concern of job ${card.job.number} is closed already; reopen it to change it.`,
        {
          field: 'concernId',
          id: concern.id,
        },
      );
    const { book } = await desk.book();
    const { closing } = input;
    checkClosing(closing, book);
    await keepWhatIsShown(desk, card, concern, 'closed');
    const vehicle = card.job.vehicle_id === null ? null : await vehicleOr404(desk, card.job.vehicle_id);
    const model = vehicle?.model_id ? book.models.get(vehicle.model_id as ModelId) : undefined;
    const now = desk.now();
    const isProven = closing.kind === 'proven';
    await movingTally(desk.db, await boundTogether(desk, concern), async () => {
      await updateConcern(desk.db, concern.id, {
        state: 'closed',
        outcome: closing.kind,
        proof: isProven ? closing.proof : null,
        retest: isProven ? closing.retest || null : null,
        minutes: closing.minutes ?? null,
        planned_minutes: plannedMinutes(closing, book),
        close_note: closing.note || null,
        closed_ms: now.ms,
        closed_offset: now.offset,
        model_id: model?.id ?? vehicle?.model_id ?? null,
        family_id: model?.familyId ?? null,
        counted: 1,
      });
      if (isProven)
        await replaceCauses(
          desk.db,
          concern.id,
          closing.causes.map((cause) =>
            'causeId' in cause
              ? { cause_id: cause.causeId, words: null }
              : { cause_id: null, words: cause.words },
          ),
          (closing.parts ?? []).map((part) => ({
            description: part.description,
            part_number: part.partNumber || null,
            kind: part.kind ?? null,
            supplier: part.supplier || null,
            quantity: part.quantity,
            for_cause: part.forCause ?? null,
          })),
        );
      await decideAround(desk, concern);
    });
    const left = card.concerns.filter((one) => one.state === 'open' && one.id !== concern.id).length;
    return { status: afterClosing(card.job.status as Status, left) };
  });
}

/** Opens a closed concern again: its count, and what it decided about an earlier repair, are taken back. */
export async function reopenConcern(desk: Desk, input: ParsedInputOf<'jobs.reopen'>): Promise<JobView> {
  return changeCard(desk, input.jobId, input.ifVersion, async (card) => {
    const concern = concernOf(card, input.concernId);
    if (concern.state === 'open')
      throw new Problem('not-allowed-now', `This concern of job ${card.job.number} is open.`, {
        field: 'concernId',
        id: concern.id,
      });
    await movingTally(desk.db, await boundTogether(desk, concern), async () => {
      await updateConcern(desk.db, concern.id, {
        state: 'open',
        outcome: null,
        proof: null,
        retest: null,
        minutes: null,
        planned_minutes: null,
        close_note: null,
        closed_ms: null,
        closed_offset: null,
        counted: 0,
      });
      await replaceCauses(desk.db, concern.id, [], []);
      await decideAround(desk, concern);
    });
    return { status: afterReopening(card.job.status as Status), closed_ms: null, closed_offset: null };
  });
}
