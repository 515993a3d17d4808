import { moneyWords } from '../quote/index.ts';
import { issuesOf, type JobCard, listQuotes, type QuoteRow, updateJob } from '../store/index.ts';
import type { Money, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { cardOr404 } from './job-card.ts';
import { readAnswer } from './quote-saving.ts';

type Gate = NonNullable<QuoteView['gate']>;

/**
 * What a quote asks of the customer, and what of it was accepted. While it is being changed, what was handed out last
 * still stands: pulling a quote back into a draft must not open the gate.
 */
async function standing(desk: Desk, row: QuoteRow): Promise<{ stands: number; accepted: number }> {
  if (row.state === 'accepted') return { stands: row.total, accepted: row.total };
  if (row.state === 'issued') return { stands: row.total, accepted: 0 };
  const last = row.state === 'draft' ? (await issuesOf(desk.db, row.id)).at(-1) : undefined;
  if (!last) return { stands: 0, accepted: 0 };
  const answer = readAnswer(last.answer);
  return { stands: answer?.total ?? last.total, accepted: answer?.total ?? 0 };
}

interface Asked {
  readonly total: Money;
  /** Of what was accepted only. */
  readonly accepted: number;
  /** With a draft taken as it is now. */
  readonly withDraft: number;
}

async function sumsOf(desk: Desk, jobId: string, draftId: string | null): Promise<Asked | null> {
  const rows = await listQuotes(desk.db, { jobId }, 500);
  const asked = await Promise.all(rows.map(async (row) => ({ row, ...(await standing(desk, row)) })));
  const [newest] = asked.filter((one) => one.stands > 0 || one.row.id === draftId);
  if (!newest) return null;
  const same = asked.filter((one) => one.row.currency === newest.row.currency);
  const sum = (of: (one: (typeof same)[number]) => number): number =>
    same.reduce((all, one) => all + of(one), 0);
  return {
    total: { amount: sum((one) => one.stands), currency: newest.row.currency },
    accepted: sum((one) => one.accepted),
    withDraft: sum((one) => (one.row.id === draftId ? one.row.total : one.stands)),
  };
}

/** What of the quotes of a job is asked for: issued and accepted ones, in the currency of the newest. */
export async function askedOn(desk: Desk, jobId: string): Promise<Money | null> {
  const sums = await sumsOf(desk, jobId, null);
  return sums && sums.total.amount > 0 ? sums.total : null;
}

/** What the customer has accepted on the quotes of a job. */
export const acceptedOn = async (desk: Desk, jobId: string): Promise<number> =>
  (await sumsOf(desk, jobId, null))?.accepted ?? 0;

/** The approval gate of a job: what was approved last against what its quotes ask, and would ask with a draft issued. */
export async function gateOf(desk: Desk, card: JobCard, draft: QuoteRow | null = null): Promise<Gate | null> {
  const draftId = draft?.state === 'draft' ? draft.id : null;
  const sums = await sumsOf(desk, card.job.id, draftId);
  if (!sums || (sums.total.amount === 0 && draftId === null)) return null;
  const { currency } = sums.total;
  const last = card.approvals.filter((one) => one.currency === currency).at(-1);
  const approved = last ? { amount: last.amount, currency } : null;
  const isCovered = (approved?.amount ?? 0) >= sums.total.amount;
  const ifIssued = draftId === null ? null : { amount: sums.withDraft, currency };
  return {
    approved,
    asked: sums.total,
    isCovered,
    ifIssued,
    says: [gateWords(sums.total, approved, isCovered), draftWords(ifIssued, approved)]
      .filter(Boolean)
      .join(' '),
  };
}

function gateWords(asked: Money, approved: Money | null, isCovered: boolean): string {
  if (asked.amount === 0) return '';
  if (isCovered)
    return `The customer approved ${moneyWords(approved ?? asked)}; the work may go on within that.`;
  return approved
    ? `The total of ${moneyWords(asked)} is above what the customer approved, ${moneyWords(approved)}: ask again before the work goes on.`
    : `The customer has not approved anything yet: ask for ${moneyWords(asked)} before the work goes on.`;
}

function draftWords(ifIssued: Money | null, approved: Money | null): string {
  if (!ifIssued || ifIssued.amount === 0) return '';
  if ((approved?.amount ?? 0) >= ifIssued.amount)
    return `Issued as it stands, this draft stays within the ${moneyWords(approved ?? ifIssued)} the customer approved.`;
  return approved
    ? `Issued as it stands, this draft brings the total to ${moneyWords(ifIssued)}, above the ${moneyWords(approved)} the customer approved: the work stops until the customer is asked again.`
    : `Issued as it stands, this draft asks for ${moneyWords(ifIssued)}: the work waits until the customer says yes.`;
}

/** A total above what was approved stops the job until the customer is asked. */
export async function stopAboveApproval(desk: Desk, jobId: string): Promise<void> {
  const card = await cardOr404(desk, { id: jobId });
  const gate = await gateOf(desk, card);
  if (!gate || gate.isCovered || ['ready', 'collected', 'awaiting-approval'].includes(card.job.status))
    return;
  await updateJob(desk.db, jobId, card.job.version, { status: 'awaiting-approval' });
}
