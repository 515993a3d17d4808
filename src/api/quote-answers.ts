import { Problem, quoted } from '../problem.ts';
import { linesOfOption, priceQuote, type QuoteBody, type QuoteLine } from '../quote/index.ts';
import {
  answerIssue,
  insertAdvisory,
  insertApproval,
  issuesOf,
  loadJob,
  type QuoteRow,
  updateJob,
} from '../store/index.ts';
import type { ParsedInputOf, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { fromIso, toIso } from './instants.ts';
import { cardOr404 } from './job-card.ts';
import { acceptedOn, gateOf } from './quote-gate.ts';
import { type Answer, bodyOf, quoteOr404, saveQuote } from './quote-saving.ts';
import { dayAfter, viewQuote } from './quote-views.ts';

/** What the customer says to an issued quote: kept with that issue, and told to the job. */
export async function acceptQuote(desk: Desk, input: ParsedInputOf<'quotes.accept'>): Promise<QuoteView> {
  const row = await quoteOr404(desk, input.quoteId);
  const declined = new Set(input.declinedLineIds ?? []);
  if (row.state === 'accepted' && input.ifVersion === row.version - 1) return viewQuote(desk, row);
  if (row.state !== 'issued')
    throw new Problem(
      'not-allowed-now',
      `Quote ${row.number} is ${row.state}; only an issued one can be answered.`,
      { field: 'quoteId', id: row.id },
    );
  const issue = (await issuesOf(desk.db, row.id)).at(-1);
  const now = desk.now();
  const body = bodyOf(row);
  const optionId = optionChosen(body, input.optionId);
  const unknown = [...declined].find((id) => !body.lines.some((line) => line.lineId === id));
  if (unknown !== undefined)
    throw new Problem('bad-input', `declinedLineIds: the quote has no line ${quoted(unknown)}.`, {
      field: 'declinedLineIds',
    });
  const offered = linesOfOption(body, optionId);
  const isDeclined = offered.every((line) => declined.has(line.lineId));
  // A "no" can be said to an old quote too; a "yes" needs the prices that still hold.
  if (!isDeclined && issue && dayAfter(now.ms, now.offset, 0) > issue.valid_until)
    throw new Problem(
      'not-allowed-now',
      `Quote ${row.number} held until ${issue.valid_until}; issue it anew with today's prices.`,
      { field: 'quoteId', id: row.id },
    );
  const { total } = priceQuote(body, optionId, declined).customer;
  const answer: Answer = {
    at: toIso(now.ms, now.offset),
    who: input.who,
    how: input.how,
    optionId,
    declinedLineIds: [...declined],
    total,
    words: input.words ?? '',
  };
  const json = JSON.stringify(answer);
  const saved = await saveQuote(desk, row, input.ifVersion, {
    state: isDeclined ? 'declined' : 'accepted',
    total,
    answer: json,
  });
  if (issue) await answerIssue(desk.db, row.id, issue.seq, json);
  if (row.job_id !== null)
    await tellJob(
      desk,
      row.job_id,
      saved,
      offered.filter((line) => declined.has(line.lineId)),
      answer,
    );
  return viewQuote(desk, saved);
}

function optionChosen(body: QuoteBody, optionId: string | undefined): string | null {
  if (body.options.length === 0) {
    if (optionId === undefined) return null;
    throw new Problem('bad-input', 'optionId: this quote has no options.', { field: 'optionId' });
  }
  const known = body.options.map((option) => option.optionId);
  if (optionId === undefined || !known.includes(optionId))
    throw new Problem('bad-input', `optionId: choose one of ${known.join(', ')}.`, { field: 'optionId' });
  return optionId;
}

/** One advisory for each piece of work: the parts of a declined repair go with its labor. */
function advisoriesFor(declined: readonly QuoteLine[]): { words: string; isSafety: boolean }[] {
  const work = declined.filter((line) => line.kind !== 'deposit');
  const repairs = new Map<string, QuoteLine>();
  for (const line of work)
    if (line.causeId !== null && line.kind === 'labor' && !repairs.has(line.causeId))
      repairs.set(line.causeId, line);
  return work
    .filter((line) => {
      const repair = line.causeId === null ? undefined : repairs.get(line.causeId);
      return repair === undefined || repair.lineId === line.lineId;
    })
    .map(({ words, isSafety }) => ({ words, isSafety }));
}

/** The approval, as of when it was given, and what was declined go onto the job card. */
export async function tellJob(
  desk: Desk,
  jobId: string,
  row: QuoteRow,
  declined: readonly QuoteLine[],
  answer: Answer,
): Promise<void> {
  const card = await cardOr404(desk, { id: jobId });
  const now = fromIso(answer.at);
  for (const { words, isSafety } of advisoriesFor(declined)) {
    await insertAdvisory(desk.db, {
      id: desk.newId(),
      job_id: jobId,
      vehicle_id: card.job.vehicle_id,
      words: `Declined on quote ${row.number}: ${words}`,
      urgency: isSafety ? 'now' : 'soon',
      do_not_ride: Number(isSafety),
      state: 'declined',
      made_ms: now.ms,
      made_offset: now.offset,
    });
  }
  if (row.state === 'accepted') {
    await insertApproval(desk.db, {
      id: desk.newId(),
      job_id: jobId,
      at_ms: now.ms,
      at_offset: now.offset,
      who: answer.who,
      how: answer.how,
      // An approval is for the job as a whole: all its quotes that were accepted, and none that waits for an answer.
      amount: await acceptedOn(desk, jobId),
      currency: row.currency,
      words: answer.words || `Quote ${row.number} accepted`,
    });
  }
  const after = await loadJob(desk.db, { id: jobId });
  const isCovered = after ? ((await gateOf(desk, after))?.isCovered ?? true) : true;
  const status = card.job.status === 'awaiting-approval' && isCovered ? 'in-work' : card.job.status;
  await updateJob(desk.db, jobId, card.job.version, { status });
}
