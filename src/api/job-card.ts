import { Problem, quoted } from '../problem.ts';
import { type ConcernRow, type JobCard, type JobTableRow, loadJob, updateJob } from '../store/index.ts';
import type { JobView } from './contract.ts';
import type { Desk } from './desk.ts';
import { jobView } from './job-views.ts';
import { changedMeanwhile } from './people.ts';

/** Loading a card, finding a concern on it, and saving a change with its version. */

export async function cardOr404(desk: Desk, by: { id: string } | { number: number }): Promise<JobCard> {
  const card = await loadJob(desk.db, by);
  if (!card) {
    const [field, value] = 'id' in by ? ['jobId', by.id] : ['number', String(by.number)];
    throw new Problem('not-found', `There is no job ${quoted(value)}.`, {
      field: field as string,
      id: value as string,
    });
  }
  return card;
}

export function concernOf(card: JobCard, concernId: string): ConcernRow {
  const concern = card.concerns.find((one) => one.id === concernId);
  if (!concern)
    throw new Problem('not-found', `Job ${card.job.number} has no concern ${quoted(concernId)}.`, {
      field: 'concernId',
      id: concernId,
    });
  return concern;
}

/** @throws Problem not-allowed-now when the concern is closed */
export function openConcernOf(card: JobCard, concernId: string): ConcernRow {
  const concern = concernOf(card, concernId);
  if (concern.state === 'closed')
    throw new Problem(
      'not-allowed-now',
      `This concern of job ${card.job.number} is closed; reopen it to change it.`,
      {
        field: 'concernId',
        id: concernId,
      },
    );
  return concern;
}

type JobChange = Partial<Omit<JobTableRow, 'id' | 'version'>>;

/**
 * Loads a card, lets `step` change what hangs on it, saves what it returns for the card itself, and counts the version
 * up.
 * @throws Problem conflict when `ifVersion` is not the present version
 */
export async function changeCard(
  desk: Desk,
  jobId: string,
  ifVersion: number | undefined,
  step: (card: JobCard) => Promise<JobChange>,
): Promise<JobView> {
  const card = await cardOr404(desk, { id: jobId });
  if (ifVersion !== undefined && ifVersion !== card.job.version)
    throw changedMeanwhile('job card', card.job.version, ifVersion);
  const set = await step(card);
  if (!(await updateJob(desk.db, jobId, card.job.version, set)))
    throw changedMeanwhile('job card', card.job.version + 1, card.job.version);
  return jobView(desk, await cardOr404(desk, { id: jobId }));
}
