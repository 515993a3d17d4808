import { Problem } from '../problem.ts';
import { linesOfOption } from '../quote/index.ts';
import type { ParsedInputOf, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { cardOr404 } from './job-card.ts';
import { vehicleOr404 } from './people.ts';
import { tellJob } from './quote-answers.ts';
import { stopAboveApproval } from './quote-gate.ts';
import { bodyOf, quoteOr404, readAnswer, saveQuote } from './quote-saving.ts';
import { viewQuote } from './quote-views.ts';

/**
 * Puts a quote without a job onto a job card. What was issued asks for approval there; what the customer said already
 * goes onto the card as of when it was said.
 * @throws Problem not-found, conflict; not-allowed-now where the quote has a job, or is for another vehicle
 */
export async function attachQuote(desk: Desk, input: ParsedInputOf<'quotes.attach'>): Promise<QuoteView> {
  const row = await quoteOr404(desk, input.quoteId);
  if (row.job_id === input.jobId) return viewQuote(desk, row);
  const refuse = (why: string): Problem =>
    new Problem('not-allowed-now', why, { field: 'jobId', id: input.jobId });
  if (row.job_id !== null) {
    const { job } = await cardOr404(desk, { id: row.job_id });
    throw refuse(`Quote ${row.number} belongs to job ${job.number} already.`);
  }
  const { job } = await cardOr404(desk, { id: input.jobId });
  const body = bodyOf(row);
  if (body.vehicleId !== null && job.vehicle_id !== null && body.vehicleId !== job.vehicle_id) {
    const named = async (id: string): Promise<string> => (await vehicleOr404(desk, id)).plate ?? 'no plate';
    throw refuse(
      `Quote ${row.number} is for ${await named(body.vehicleId)}, job ${job.number} for ${await named(job.vehicle_id)}: the parts may not fit. Take the vehicle off the quote first.`,
    );
  }
  const saved = await saveQuote(desk, row, input.ifVersion, { job_id: job.id });
  const answer = readAnswer(saved.answer);
  if (answer) {
    const declined = new Set(answer.declinedLineIds);
    const left = linesOfOption(body, answer.optionId).filter((line) => declined.has(line.lineId));
    await tellJob(desk, job.id, saved, left, answer);
  } else if (saved.state === 'issued') await stopAboveApproval(desk, job.id);
  return viewQuote(desk, saved);
}
