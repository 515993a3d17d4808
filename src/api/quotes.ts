import { type Fonts, quotePdf } from '../paper/index.ts';
import { Problem, quoted } from '../problem.ts';
import { optionsOf, priceQuote, type QuoteBody, quoteText } from '../quote/index.ts';
import {
  findQuote,
  fontFolder,
  insertAdvisory,
  insertApproval,
  insertIssue,
  insertQuote,
  issuesOf,
  type JobCard,
  listQuotes,
  loadJob,
  nextQuoteNumber,
  type QuoteRow,
  readFonts,
  updateJob,
  updateQuote,
  wasMade,
} from '../store/index.ts';
import type { ParsedInputOf, QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { estimateFor } from './estimating.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { cardOr404 } from './job-card.ts';
import { changedMeanwhile } from './people.ts';
import { lineOf, linesFromCauses } from './quote-lines.ts';
import { readQuoteTerms, writeQuoteTerms } from './quote-terms.ts';
import { type Answer, bodyOf, dayAfter, gateOf, headOf, viewQuote } from './quote-views.ts';
import { readShopSettings } from './settings.ts';

export const quotes = {
  'quotes.estimate': async (desk, input) => estimateFor(desk, input),
  'quotes.terms': async (desk, { set }) => (set ? writeQuoteTerms(desk.db, set) : readQuoteTerms(desk.db)),
  'quotes.draft': async (desk, input) => draftQuote(desk, input),
  'quotes.issue': async (desk, { quoteId, ifVersion }) => issueQuote(desk, quoteId, ifVersion),
  'quotes.accept': async (desk, input) => acceptQuote(desk, input),
  'quotes.get': async (desk, { quoteId }) => viewQuote(desk, await quoteOr404(desk, quoteId)),
  'quotes.list': async (desk, { jobId, limit }) => ({
    quotes: (await listQuotes(desk.db, jobId, limit ?? 100)).map((row) => ({
      quoteId: row.id,
      number: row.number,
      jobId: row.job_id,
      state: row.state,
      title: bodyOf(row).title,
      total: { amount: row.total, currency: row.currency },
      madeAt: toIso(row.made_ms, row.made_offset),
    })),
  }),
  'quotes.pdf': async (desk, { quoteId, paper }) => {
    const row = await quoteOr404(desk, quoteId);
    const terms = await readQuoteTerms(desk.db);
    const { head, body, atMs } = await headOf(desk, row);
    const fonts: Fonts = readFonts(fontFolder(desk.options.seedFolder));
    const bytes = await quotePdf(
      { body, head, footWords: terms.footWords, madeAt: new Date(atMs) },
      fonts,
      paper ?? terms.paper,
    );
    return {
      fileName: `quote-${row.number}${head.issue > 1 ? `-${head.issue}` : ''}.pdf`,
      base64: Buffer.from(bytes).toString('base64'),
      bytes: bytes.length,
    };
  },
  'quotes.text': async (desk, { quoteId }) => {
    const { head, body } = await headOf(desk, await quoteOr404(desk, quoteId));
    return { text: quoteText(body, head) };
  },
} satisfies Group<'quotes.'>;

async function quoteOr404(desk: Desk, quoteId: string): Promise<QuoteRow> {
  const row = await findQuote(desk.db, quoteId);
  if (!row)
    throw new Problem('not-found', `There is no quote ${quoted(quoteId)}.`, {
      field: 'quoteId',
      id: quoteId,
    });
  return row;
}

/** What a quote asks for: the dearest of its options. */
const askedTotal = (body: QuoteBody): number =>
  Math.max(...optionsOf(body).map((option) => priceQuote(body, option.optionId).customer.total));

async function save(
  desk: Desk,
  row: QuoteRow,
  ifVersion: number | undefined,
  set: Partial<QuoteRow>,
): Promise<QuoteRow> {
  if (ifVersion !== undefined && ifVersion !== row.version)
    throw changedMeanwhile('quote', row.version, ifVersion);
  if (!(await updateQuote(desk.db, row.id, row.version, set)))
    throw changedMeanwhile('quote', row.version + 1, row.version);
  return quoteOr404(desk, row.id);
}

async function draftQuote(desk: Desk, input: ParsedInputOf<'quotes.draft'>): Promise<QuoteView> {
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
  const written = await linesFromCauses(desk, card, causeIds, terms, settings);
  const typed = input.lines?.map((line) => lineOf(desk, line, terms));
  const body: QuoteBody = {
    title: input.title ?? old?.title ?? '',
    options: (input.options ?? old?.options ?? []).map((one) => ({ ...one, note: one.note ?? '' })),
    lines: [...(typed ?? old?.lines ?? []), ...written],
    discountPercent:
      input.discountPercent === undefined ? (old?.discountPercent ?? null) : input.discountPercent,
    note: input.note ?? old?.note ?? '',
    validDays: terms.validDays,
    terms: {
      currency: settings.currency,
      taxRates: terms.taxRates,
      taxPer: terms.taxPer,
      taxRounding: terms.taxRounding,
      cashStep: terms.cashStep,
    },
  };
  refuseUnknownOptions(body);
  const set = {
    job_id: jobId,
    state: 'draft' as const,
    body: JSON.stringify(body),
    total: askedTotal(body),
    currency: settings.currency,
    answer: null,
  };
  if (before) return viewQuote(desk, await save(desk, before, ifVersion, set));
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

async function issueQuote(desk: Desk, quoteId: string, ifVersion: number | undefined): Promise<QuoteView> {
  const row = await quoteOr404(desk, quoteId);
  if (row.state === 'issued' && ifVersion === row.version - 1) return viewQuote(desk, row);
  if (row.state !== 'draft')
    throw new Problem(
      'not-allowed-now',
      `Quote ${row.number} was ${row.state} already; change it to issue it anew.`,
      {
        field: 'quoteId',
        id: quoteId,
      },
    );
  const body = bodyOf(row);
  if (body.lines.length === 0)
    throw new Problem('not-allowed-now', `Quote ${row.number} has no lines yet.`, { field: 'lines' });
  const now = desk.now();
  const saved = await save(desk, row, ifVersion, { state: 'issued' });
  await insertIssue(desk.db, {
    quote_id: row.id,
    seq: (await issuesOf(desk.db, row.id)).length + 1,
    body: row.body,
    total: row.total,
    issued_ms: now.ms,
    issued_offset: now.offset,
    valid_until: dayAfter(now.ms, now.offset, body.validDays),
  });
  if (row.job_id !== null) await stopAboveApproval(desk, row.job_id);
  return viewQuote(desk, saved);
}

/** A total above what was approved stops the job until the customer is asked. */
async function stopAboveApproval(desk: Desk, jobId: string): Promise<void> {
  const card = await cardOr404(desk, { id: jobId });
  const gate = await gateOf(desk, card);
  if (!gate || gate.isCovered || ['ready', 'collected', 'awaiting-approval'].includes(card.job.status))
    return;
  await updateJob(desk.db, jobId, card.job.version, { status: 'awaiting-approval' });
}

async function acceptQuote(desk: Desk, input: ParsedInputOf<'quotes.accept'>): Promise<QuoteView> {
  const row = await quoteOr404(desk, input.quoteId);
  const declined = new Set(input.declinedLineIds ?? []);
  if (row.state === 'accepted' && input.ifVersion === row.version - 1) return viewQuote(desk, row);
  if (row.state !== 'issued')
    throw new Problem(
      'not-allowed-now',
      `Quote ${row.number} is ${row.state}; only an issued one can be answered.`,
      {
        field: 'quoteId',
        id: row.id,
      },
    );
  const issue = (await issuesOf(desk.db, row.id)).at(-1);
  const now = desk.now();
  const today = dayAfter(now.ms, now.offset, 0);
  if (issue && today > issue.valid_until)
    throw new Problem(
      'not-allowed-now',
      `Quote ${row.number} held until ${issue.valid_until}; issue it anew with today's prices.`,
      {
        field: 'quoteId',
        id: row.id,
      },
    );
  const body = bodyOf(row);
  const optionId = optionChosen(body, input.optionId);
  const unknown = [...declined].find((id) => !body.lines.some((line) => line.lineId === id));
  if (unknown !== undefined)
    throw new Problem('bad-input', `declinedLineIds: the quote has no line ${quoted(unknown)}.`, {
      field: 'declinedLineIds',
    });
  const { total } = priceQuote(body, optionId, declined).customer;
  const left = body.lines.filter(
    (line) => (line.optionId === null || line.optionId === optionId) && !declined.has(line.lineId),
  );
  const answer: Answer = {
    at: toIso(now.ms, now.offset),
    who: input.who,
    how: input.how,
    optionId,
    declinedLineIds: [...declined],
    total,
    words: input.words ?? '',
  };
  const saved = await save(desk, row, input.ifVersion, {
    state: left.length === 0 ? 'declined' : 'accepted',
    total,
    answer: JSON.stringify(answer),
  });
  if (row.job_id !== null) await tellJob(desk, row.job_id, saved, body, declined, answer);
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

/** The approval and what was declined go onto the job card. */
async function tellJob(
  desk: Desk,
  jobId: string,
  row: QuoteRow,
  body: QuoteBody,
  declined: ReadonlySet<string>,
  answer: Answer,
): Promise<void> {
  const card = await cardOr404(desk, { id: jobId });
  const now = desk.now();
  for (const line of body.lines) {
    if (!declined.has(line.lineId) || line.kind === 'deposit') continue;
    await insertAdvisory(desk.db, {
      id: desk.newId(),
      job_id: jobId,
      vehicle_id: card.job.vehicle_id,
      words: `Declined on quote ${row.number}: ${line.words}`,
      urgency: line.isSafety ? 'now' : 'soon',
      do_not_ride: Number(line.isSafety),
      state: 'declined',
      made_ms: now.ms,
      made_offset: now.offset,
    });
  }
  if (row.state === 'accepted') {
    const gate = await gateOf(desk, card);
    await insertApproval(desk.db, {
      id: desk.newId(),
      job_id: jobId,
      at_ms: now.ms,
      at_offset: now.offset,
      who: answer.who,
      how: answer.how,
      // An approval is for the job as a whole: all its quotes that stand.
      amount: gate?.asked.amount ?? answer.total,
      currency: row.currency,
      words: answer.words || `Quote ${row.number} accepted`,
    });
  }
  const after = await loadJob(desk.db, { id: jobId });
  const isCovered = after ? ((await gateOf(desk, after))?.isCovered ?? true) : true;
  const status = card.job.status === 'awaiting-approval' && isCovered ? 'in-work' : card.job.status;
  await updateJob(desk.db, jobId, card.job.version, { status });
}
