import { partKey } from '../parts/index.ts';
import { Problem } from '../problem.ts';
import {
  type AcceptedQuote,
  againstQuoted,
  declineStatement,
  declineWords,
  optionsOf,
  type PrintedAnswer,
  prepaid,
  priceQuote,
  type QuoteBody,
  type QuoteHead,
} from '../quote/index.ts';
import { findCustomer, issuesOf, type JobCard, listQuotes, loadJob, type QuoteRow } from '../store/index.ts';
import type { Money, PricedOptionView, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { toIso } from './instants.ts';
import { shopSide } from './part-views.ts';
import { vehicleOr404 } from './people.ts';
import { gateOf } from './quote-gate.ts';
import { type Answer, bodyOf, readAnswer } from './quote-saving.ts';
import { readShopSettings } from './settings.ts';
import { titleOfModel } from './views.ts';

const inCurrency =
  (currency: string) =>
  (amount: number): Money => ({ amount, currency });

function prepaidOf(body: QuoteBody, total: number, money: (amount: number) => Money) {
  const ahead = prepaid(body, total);
  return ahead && { ahead: money(ahead.ahead), rest: money(ahead.rest) };
}

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
      prepaid: prepaidOf(body, priced.customer.total, money),
    };
  });
}

/** A quote as it was accepted, or as it would be with its first option. */
export const acceptedAs = (row: Pick<QuoteRow, 'body' | 'answer'>): AcceptedQuote => {
  const body = bodyOf(row);
  const answer = readAnswer(row.answer);
  return {
    body,
    optionId: answer?.optionId ?? body.options[0]?.optionId ?? null,
    declined: new Set(answer?.declinedLineIds),
  };
};

/** Labor and parts booked on the job against what was quoted; null before anything is booked. */
async function againstOf(desk: Desk, card: JobCard, row: QuoteRow): Promise<QuoteView['against']> {
  const minutes = card.concerns.reduce((sum, concern) => sum + (concern.minutes ?? 0), 0);
  if (minutes === 0 && card.parts.length === 0) return null;
  const { currency } = row;
  // Nobody books for one of several quotes: those that were accepted are compared together.
  const together =
    row.state === 'accepted'
      ? (await listQuotes(desk.db, { jobId: card.job.id }, 500))
          .filter((one) => one.state === 'accepted' && one.currency === currency)
          .toSorted((a, b) => a.number - b.number)
      : [row];
  const keys = card.parts.flatMap((part) => (part.part_number === null ? [] : [partKey(part.part_number)]));
  const side = await shopSide(desk, keys);
  const priceOf = (key: string | null): string | null => {
    const price = key === null ? null : side.priceText(key);
    return price?.currency === currency ? price.text : null;
  };
  const settings = await readShopSettings(desk.db);
  const told = againstQuoted(
    together.map(acceptedAs),
    {
      minutes,
      parts: card.parts.map((part) => {
        const key = part.part_number === null ? null : partKey(part.part_number);
        return { key, words: part.description, quantity: part.quantity, price: priceOf(key) };
      }),
    },
    settings.laborRate,
    partKey,
  );
  const money = inCurrency(currency);
  return {
    numbers: together.map((one) => one.number),
    quotedMinutes: told.quotedMinutes,
    actualMinutes: told.actualMinutes,
    quoted: money(told.quotedAmount),
    actual: money(told.actualAmount),
    parts: told.parts.map((part) => ({ ...part })),
    unpriced: [...told.unpriced],
  };
}

const shownAnswer = (answer: Answer | null, money: (amount: number) => Money): QuoteView['answer'] =>
  answer && { ...answer, declinedLineIds: [...answer.declinedLineIds], total: money(answer.total) };

export async function viewQuote(desk: Desk, row: QuoteRow): Promise<QuoteView> {
  const body = bodyOf(row);
  const money = inCurrency(row.currency);
  const answer = readAnswer(row.answer);
  const card = row.job_id === null ? undefined : await loadJob(desk.db, { id: row.job_id });
  const declined = new Set(answer?.declinedLineIds ?? []);
  const { customer, vehicle, plate } = await namesOn(desk, card, body);
  return {
    quoteId: row.id,
    number: row.number,
    version: row.version,
    jobId: row.job_id,
    jobNumber: card?.job.number ?? null,
    state: row.state,
    title: body.title,
    note: body.note,
    discountPercent: body.discountPercent,
    currency: body.terms.currency,
    taxRates: [...body.terms.taxRates],
    validUntil: body.validUntil,
    prepay: body.prepay,
    forWhom: body.forWhom,
    vehicleId: card?.job.vehicle_id ?? body.vehicleId,
    customer,
    vehicle,
    plate,
    options: [...body.options],
    lines: body.lines.map(({ isSafety, ...line }) => ({ ...line, safety: isSafety })),
    priced: pricedOptions(body, declined),
    issues: (await issuesOf(desk.db, row.id)).map((issue) => ({
      issue: issue.seq,
      at: toIso(issue.issued_ms, issue.issued_offset),
      validUntil: issue.valid_until,
      total: money(issue.total),
      answer: shownAnswer(readAnswer(issue.answer), money),
    })),
    answer: shownAnswer(answer, money),
    gate: card ? await gateOf(desk, card, row) : null,
    declineWords: declineWords(body.lines),
    declineStatement: { ...declineStatement },
    against: card ? await againstOf(desk, card, row) : null,
  };
}

const howWords = { 'in-person': 'in person', phone: 'by phone', message: 'by message' } as const;

/** Whom and which machine a quote is for: those of its job, else the ones it names itself. */
async function namesOn(
  desk: Desk,
  card: JobCard | undefined,
  body: QuoteBody,
): Promise<{ customer: string | null; vehicle: string | null; plate: string | null }> {
  const { book } = await desk.book();
  const vehicleId = card ? card.job.vehicle_id : body.vehicleId;
  const vehicle = vehicleId ? await vehicleOr404(desk, vehicleId) : null;
  const customer = vehicle?.customer_id ? await findCustomer(desk.db, vehicle.customer_id) : undefined;
  return {
    customer: (card ? null : body.forWhom || null) ?? customer?.name ?? null,
    vehicle: vehicle ? titleOfModel(book, vehicle.model_id, vehicle.model_words) : null,
    plate: vehicle?.plate ?? null,
  };
}

/**
 * What stands at the head of a printed quote, as it was last issued; a draft shows today's date.
 * @param seq an earlier issue, to print it as it was
 * @throws Problem not-found where the quote has no such issue
 */
export async function headOf(
  desk: Desk,
  row: QuoteRow,
  seq?: number,
): Promise<{ head: QuoteHead; body: QuoteBody; atMs: number; answer: PrintedAnswer | null }> {
  const settings = await readShopSettings(desk.db);
  const issues = await issuesOf(desk.db, row.id);
  const issue =
    seq !== undefined
      ? issues.find((one) => one.seq === seq)
      : row.state === 'draft'
        ? undefined
        : issues.at(-1);
  if (seq !== undefined && !issue)
    throw new Problem(
      'not-found',
      `Quote ${row.number} was issued ${issues.length} times; there is no issue ${seq}.`,
      {
        field: 'issue',
        id: String(seq),
      },
    );
  const now = desk.now();
  const body = issue ? bodyOf(issue) : bodyOf(row);
  const at = issue ? { ms: issue.issued_ms, offset: issue.issued_offset } : now;
  const card = row.job_id === null ? undefined : await loadJob(desk.db, { id: row.job_id });
  const answer = readAnswer(issue?.answer ?? null);
  return {
    body,
    atMs: at.ms,
    answer: answer && {
      date: answer.at.slice(0, 10),
      who: answer.who,
      how: howWords[answer.how],
      optionTitle: body.options.find((option) => option.optionId === answer.optionId)?.title ?? null,
      declinedLineIds: new Set(answer.declinedLineIds),
      total: answer.total,
    },
    head: {
      shopName: settings.shopName,
      address: settings.address,
      phone: settings.phone,
      number: row.number,
      issue: issue?.seq ?? 0,
      date: toIso(at.ms, at.offset).slice(0, 10),
      validUntil: issue?.valid_until ?? body.validUntil ?? dayAfter(now.ms, now.offset, body.validDays),
      ...(await namesOn(desk, card, body)),
      jobNumber: card?.job.number ?? null,
    },
  };
}

/** The date some days on, as the shop's calendar shows it. */
export const dayAfter = (ms: number, offset: number, days: number): string =>
  toIso(ms + days * 86_400_000, offset).slice(0, 10);
