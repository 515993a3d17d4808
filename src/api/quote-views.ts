import { declineWords, optionsOf, priceQuote, type QuoteBody, type QuoteHead } from '../quote/index.ts';
import { findCustomer, issuesOf, type JobCard, listQuotes, loadJob, type QuoteRow } from '../store/index.ts';
import type { Money, PricedOptionView, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { toIso } from './instants.ts';
import { vehicleOr404 } from './people.ts';
import { readShopSettings } from './settings.ts';
import { titleOfModel } from './views.ts';

export const bodyOf = (row: Pick<QuoteRow, 'body'>): QuoteBody => JSON.parse(row.body) as QuoteBody;

const inCurrency =
  (currency: string) =>
  (amount: number): Money => ({ amount, currency });

function pricedOptions(body: QuoteBody, declined: ReadonlySet<string>): PricedOptionView[] {
  const money = inCurrency(body.terms.currency);
  return optionsOf(body).map((option) => {
    const priced = priceQuote(body, option.optionId, declined);
    return {
      ...option,
      lines: priced.lines.map((line) => ({
        lineId: line.lineId,
        gross: money(line.gross),
        discount: money(line.discount),
        net: money(line.net),
        tax: money(line.tax),
      })),
      net: money(priced.net),
      discount: money(priced.discount),
      tax: money(priced.tax),
      deposits: money(priced.deposits),
      total: money(priced.total),
      byPayer: priced.byPayer.map((one) => ({
        payer: one.payer,
        net: money(one.net),
        taxes: one.taxes.map((tax) => ({
          title: tax.title,
          percent: tax.percent,
          base: money(tax.base),
          tax: money(tax.tax),
        })),
        total: money(one.total),
      })),
      customer: { total: money(priced.customer.total), cash: money(priced.customer.cash) },
    };
  });
}

export interface Answer {
  readonly at: string;
  readonly who: string;
  readonly how: 'in-person' | 'phone' | 'message';
  readonly optionId: string | null;
  readonly declinedLineIds: readonly string[];
  readonly total: number;
  readonly words: string;
}

export const answerOf = (row: QuoteRow): Answer | null =>
  row.answer === null ? null : (JSON.parse(row.answer) as Answer);

/** What of the open quotes of a job is asked for: issued and accepted ones, in the currency of the newest. */
export async function askedOn(desk: Desk, jobId: string): Promise<Money | null> {
  const open = (await listQuotes(desk.db, jobId, 100)).filter(
    (row) => row.state === 'issued' || row.state === 'accepted',
  );
  const [newest] = open;
  if (!newest) return null;
  const same = open.filter((row) => row.currency === newest.currency);
  return { amount: same.reduce((sum, row) => sum + row.total, 0), currency: newest.currency };
}

/** The approval gate of a job: what was approved last against what its quotes ask. */
export async function gateOf(desk: Desk, card: JobCard): Promise<NonNullable<QuoteView['gate']> | null> {
  const asked = await askedOn(desk, card.job.id);
  if (!asked) return null;
  const last = card.approvals.filter((one) => one.currency === asked.currency).at(-1);
  const approved = last ? { amount: last.amount, currency: last.currency } : null;
  const isCovered = (approved?.amount ?? 0) >= asked.amount;
  return {
    approved,
    asked,
    isCovered,
    says: isCovered
      ? 'The customer approved this total.'
      : approved
        ? 'The total is above what the customer approved: ask again before the work goes on.'
        : 'The customer has not approved anything yet: ask before the work goes on.',
  };
}

export async function viewQuote(desk: Desk, row: QuoteRow): Promise<QuoteView> {
  const body = bodyOf(row);
  const money = inCurrency(row.currency);
  const answer = answerOf(row);
  const card = row.job_id === null ? undefined : await loadJob(desk.db, { id: row.job_id });
  const declined = new Set(answer?.declinedLineIds ?? []);
  const quotedHours = body.lines
    .filter((line) => line.kind === 'labor' && !declined.has(line.lineId))
    .filter((line) => line.optionId === null || answer === null || line.optionId === answer.optionId)
    .reduce((sum, line) => sum + Number(line.quantity), 0);
  return {
    quoteId: row.id,
    number: row.number,
    version: row.version,
    jobId: row.job_id,
    state: row.state,
    title: body.title,
    note: body.note,
    discountPercent: body.discountPercent,
    options: [...body.options],
    lines: body.lines.map(({ isSafety, ...line }) => ({ ...line, safety: isSafety })),
    priced: pricedOptions(body, declined),
    issues: (await issuesOf(desk.db, row.id)).map((issue) => ({
      issue: issue.seq,
      at: toIso(issue.issued_ms, issue.issued_offset),
      validUntil: issue.valid_until,
      total: money(issue.total),
    })),
    answer: answer && { ...answer, declinedLineIds: [...answer.declinedLineIds], total: money(answer.total) },
    gate: card ? await gateOf(desk, card) : null,
    declineWords: declineWords(body.lines),
    labor: card
      ? {
          quotedMinutes: Math.round(quotedHours * 60),
          actualMinutes: card.concerns.reduce((sum, concern) => sum + (concern.minutes ?? 0), 0),
        }
      : null,
  };
}

/** What stands at the head of a printed quote, as it was last issued; a draft shows today's date. */
export async function headOf(
  desk: Desk,
  row: QuoteRow,
): Promise<{ head: QuoteHead; body: QuoteBody; atMs: number }> {
  const settings = await readShopSettings(desk.db);
  const issue = row.state === 'draft' ? undefined : (await issuesOf(desk.db, row.id)).at(-1);
  const now = desk.now();
  const body = issue ? bodyOf(issue) : bodyOf(row);
  const at = issue ? { ms: issue.issued_ms, offset: issue.issued_offset } : now;
  const { book } = await desk.book();
  const card = row.job_id === null ? undefined : await loadJob(desk.db, { id: row.job_id });
  const vehicle = card?.job.vehicle_id ? await vehicleOr404(desk, card.job.vehicle_id) : null;
  const customer = vehicle?.customer_id ? await findCustomer(desk.db, vehicle.customer_id) : undefined;
  return {
    body,
    atMs: at.ms,
    head: {
      shopName: settings.shopName,
      address: settings.address,
      phone: settings.phone,
      number: row.number,
      issue: issue?.seq ?? 0,
      date: toIso(at.ms, at.offset).slice(0, 10),
      validUntil: issue?.valid_until ?? dayAfter(now.ms, now.offset, body.validDays),
      customer: customer?.name ?? null,
      vehicle: vehicle ? titleOfModel(book, vehicle.model_id, vehicle.model_words) : null,
      plate: vehicle?.plate ?? null,
      jobNumber: card?.job.number ?? null,
    },
  };
}

/** The date some days on, as the shop's calendar shows it. */
export const dayAfter = (ms: number, offset: number, days: number): string =>
  toIso(ms + days * 86_400_000, offset).slice(0, 10);
