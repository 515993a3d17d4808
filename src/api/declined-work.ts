import { findConcern, issuesOf, listQuotes, loadJob } from '../store/index.ts';
import type { Desk } from './desk.ts';
import { bodyOf, readAnswer } from './quote-saving.ts';

/**
 * Whether the work that a closed concern called for was declined: its cause was found and not repaired (`measured`), and
 * the customer said no to it on a quote of that job or to an advisory. Nothing was repaired then, so nothing can come back.
 */
export async function wasDeclined(desk: Desk, concernId: string): Promise<boolean> {
  const concern = await findConcern(desk.db, concernId);
  if (concern?.state !== 'closed' || concern.outcome !== 'proven' || concern.proof !== 'measured')
    return false;
  const card = await loadJob(desk.db, { id: concern.job_id });
  if (!card) return false;
  const causes = new Set(
    card.causes.filter((cause) => cause.concern_id === concernId).map((cause) => cause.cause_id),
  );
  let hasQuotedWork = false;
  for (const row of await listQuotes(desk.db, { jobId: concern.job_id }, 100)) {
    const last = (await issuesOf(desk.db, row.id)).at(-1);
    const answer = readAnswer(row.answer) ?? readAnswer(last?.answer ?? null);
    if (!answer) continue;
    const declined = new Set(answer.declinedLineIds);
    for (const line of bodyOf(last ?? row).lines) {
      const isOfCause = line.causeId !== null && causes.has(line.causeId);
      if (isOfCause) hasQuotedWork = true;
      // A line typed by hand names no cause: on a job where nothing was repaired it stands for the work that was found.
      if (declined.has(line.lineId) && (isOfCause || line.causeId === null)) return true;
    }
  }
  return !hasQuotedWork && card.advisories.some((advisory) => advisory.state === 'declined');
}
