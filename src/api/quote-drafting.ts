import { Problem, quoted } from '../problem.ts';
import type { QuoteBody, QuoteTerms } from '../quote/index.ts';
import { insertQuote, type JobCard, nextQuoteNumber, wasMade } from '../store/index.ts';
import type { ParsedInputOf, QuoteSettings, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { cardOr404 } from './job-card.ts';
import { lineOf, linesFromCauses, machineFor } from './quote-lines.ts';
import { askedTotal, bodyOf, quoteOr404, saveQuote } from './quote-saving.ts';
import { readQuoteTerms } from './quote-terms.ts';
import { dayAfter, viewQuote } from './quote-views.ts';
import { readShopSettings } from './settings.ts';

/** Making a quote and changing one. */

export async function draftQuote(desk: Desk, input: ParsedInputOf<'quotes.draft'>): Promise<QuoteView> {
  const { quoteId, ifVersion } = input;
  const isChange = ifVersion !== undefined;
  if (isChange && !quoteId)
    throw new Problem('bad-input', 'ifVersion needs a quoteId.', { field: 'quoteId' });
  if (!isChange && quoteId && (await wasMade(desk.db, quoteId, 'quote', input)))
    return viewQuote(desk, await quoteOr404(desk, quoteId));
  const before = isChange ? await quoteOr404(desk, quoteId as string) : null;
  const old = before && bodyOf(before);
  const jobId = input.jobId ?? before?.job_id ?? null;
  const card = jobId === null ? null : await cardOr404(desk, { id: jobId });
  const settings = await readShopSettings(desk.db);
  const terms = await readQuoteTerms(desk.db);
  const causeIds = input.causeIds ?? (input.fromJob ? provenCauses(card) : []);
  const vehicleId = input.vehicleId === undefined ? (old?.vehicleId ?? null) : input.vehicleId;
  const machine = await machineFor(desk, card?.job.vehicle_id ?? vehicleId, input.modelId);
  const written = await linesFromCauses(desk, machine, causeIds, terms, settings);
  const typed = input.lines?.map((line) => lineOf(desk, line, terms));
  const body: QuoteBody = {
    title: input.title ?? old?.title ?? '',
    options: (input.options ?? old?.options ?? []).map((one) => ({ ...one, note: one.note ?? '' })),
    lines: [...(typed ?? old?.lines ?? []), ...written],
    discountPercent:
      input.discountPercent === undefined ? (old?.discountPercent ?? null) : input.discountPercent,
    note: input.note ?? old?.note ?? '',
    validDays: terms.validDays,
    validUntil: input.validUntil === undefined ? (old?.validUntil ?? null) : input.validUntil,
    prepay: input.prepay === undefined ? (old?.prepay ?? null) : input.prepay,
    forWhom: input.forWhom ?? old?.forWhom ?? '',
    vehicleId,
    terms: termsFor(old, terms, settings.currency),
  };
  refuseUnknownOptions(body);
  refusePast(desk, body);
  const set = {
    job_id: jobId,
    state: 'draft' as const,
    body: JSON.stringify(body),
    total: askedTotal(body),
    currency: body.terms.currency,
    answer: null,
  };
  if (before) return viewQuote(desk, await saveQuote(desk, before, ifVersion, set));
  const now = desk.now();
  const id = quoteId ?? desk.newId();
  await insertQuote(desk.db, {
    id,
    number: await nextQuoteNumber(desk.db),
    version: 1,
    ...set,
    made_ms: now.ms,
    made_offset: now.offset,
  });
  return viewQuote(desk, await quoteOr404(desk, id));
}

/**
 * How a quote is counted: as the shop does today. Its currency stays what its prices were written in, and a tax rate that
 * its lines name stays with it, also where the shop has given either up.
 */
function termsFor(old: QuoteBody | null, terms: QuoteSettings, currency: string): QuoteTerms {
  const named = new Set(old?.lines.map((line) => line.taxRateId));
  const known = new Set(terms.taxRates.map((rate) => rate.id));
  const given = old?.terms.taxRates.filter((rate) => named.has(rate.id) && !known.has(rate.id)) ?? [];
  return {
    currency: old && old.lines.length > 0 ? old.terms.currency : currency,
    taxRates: [...terms.taxRates, ...given],
    taxPer: terms.taxPer,
    taxRounding: terms.taxRounding,
    cashStep: terms.cashStep,
  };
}

/** @throws Problem bad-input where the date until which it holds is past */
export function refusePast(desk: Desk, body: QuoteBody): void {
  const now = desk.now();
  const today = dayAfter(now.ms, now.offset, 0);
  if (body.validUntil !== null && body.validUntil < today)
    throw new Problem('bad-input', `validUntil: ${body.validUntil} is past; today is ${today}.`, {
      field: 'validUntil',
    });
}

/** Causes of the book that the job's concerns were closed with. */
function provenCauses(card: JobCard | null): string[] {
  const ids = [...new Set((card?.causes ?? []).map((cause) => cause.cause_id).filter((id) => id !== null))];
  if (ids.length === 0)
    throw new Problem(
      'bad-input',
      'fromJob: no cause of the book is proven on this job yet; name causeIds to quote for.',
      {
        field: 'causeIds',
      },
    );
  return ids;
}

function refuseUnknownOptions(body: QuoteBody): void {
  const known = new Set(body.options.map((option) => option.optionId));
  body.lines.forEach((line, index) => {
    if (line.optionId !== null && !known.has(line.optionId))
      throw new Problem(
        'bad-input',
        `lines[${index}].optionId: there is no option ${quoted(line.optionId)}.`,
        {
          field: `lines[${index}].optionId`,
        },
      );
  });
  if (new Set(body.lines.map((line) => line.lineId)).size < body.lines.length)
    throw new Problem('bad-input', 'lines: two lines have the same lineId.', { field: 'lines' });
}
