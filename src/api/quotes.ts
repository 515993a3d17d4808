import { type Fonts, quotePdf, readLogoBytes } from '../paper/index.ts';
import { Problem } from '../problem.ts';
import { quoteText, readQuoteBody } from '../quote/index.ts';
import {
  fontFolder,
  insertIssue,
  issuesOf,
  listQuotes,
  namesOfJobs,
  namesOfVehicles,
  readFonts,
} from '../store/index.ts';
import type { QuoteView } from './contract.ts';
import type { Desk } from './desk.ts';
import { estimateFor } from './estimating.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { addPart } from './quote-adding.ts';
import { acceptQuote } from './quote-answers.ts';
import { attachQuote } from './quote-attaching.ts';
import { draftQuote, refusePast } from './quote-drafting.ts';
import { stopAboveApproval } from './quote-gate.ts';
import { bodyOf, quoteOr404, saveQuote } from './quote-saving.ts';
import { readQuoteTerms, writeQuoteTerms } from './quote-terms.ts';
import { dayAfter, headOf, viewQuote } from './quote-views.ts';
import { readLogo, writeLogo } from './settings.ts';

const fontsOf = (desk: Desk): Fonts => readFonts(fontFolder(desk.options.seedFolder));

/** A quote of nothing, to see whether a picture can be printed. */
const specimen = {
  body: readQuoteBody(
    JSON.stringify({
      title: '',
      options: [],
      lines: [],
      discountPercent: null,
      note: '',
      validDays: 1,
      terms: { currency: 'USD', taxRates: [], taxPer: 'document', taxRounding: 'half-away', cashStep: null },
    }),
  ),
  head: {
    shopName: '',
    address: '',
    phone: '',
    number: 1,
    issue: 1,
    date: '',
    validUntil: '',
    customer: null,
    vehicle: null,
    plate: null,
    jobNumber: null,
  },
  footWords: '',
};

export const quotes = {
  'quotes.estimate': async (desk, input) => estimateFor(desk, input),
  'quotes.terms': async (desk, { set }) => (set ? writeQuoteTerms(desk.db, set) : readQuoteTerms(desk.db)),
  'quotes.logo': async (desk, { base64 }) => {
    if (base64 !== undefined)
      await writeLogo(desk.db, base64 === null ? null : Buffer.from(base64, 'base64'), (logo) =>
        quotePdf({ ...specimen, madeAt: new Date(desk.now().ms), logo }, fontsOf(desk), 'A4'),
      );
    const kept = await readLogo(desk.db);
    const read = kept && readLogoBytes(kept);
    return {
      logo:
        kept && read?.ok
          ? { ...read.logo, bytes: kept.length, base64: Buffer.from(kept).toString('base64') }
          : null,
    };
  },
  'quotes.draft': async (desk, input) => draftQuote(desk, input),
  'quotes.add': async (desk, input) => addPart(desk, input),
  'quotes.attach': async (desk, input) => attachQuote(desk, input),
  'quotes.issue': async (desk, { quoteId, ifVersion }) => issueQuote(desk, quoteId, ifVersion),
  'quotes.accept': async (desk, input) => acceptQuote(desk, input),
  'quotes.get': async (desk, { quoteId }) => viewQuote(desk, await quoteOr404(desk, quoteId)),
  'quotes.list': async (desk, { jobId, free, limit }) => {
    const rows = await listQuotes(desk.db, { jobId, free }, limit ?? 100);
    const ofJobs = await namesOfJobs(
      desk.db,
      rows.flatMap((row) => row.job_id ?? []),
    );
    const ofVehicles = await namesOfVehicles(
      desk.db,
      rows.flatMap((row) => (row.job_id === null ? (bodyOf(row).vehicleId ?? []) : [])),
    );
    return {
      quotes: rows.map((row) => {
        const { title, forWhom, vehicleId } = bodyOf(row);
        const job = row.job_id === null ? undefined : ofJobs.get(row.job_id);
        const named = job ?? (vehicleId === null ? undefined : ofVehicles.get(vehicleId));
        const whom = (job ? null : forWhom || null) ?? named?.customer;
        return {
          quoteId: row.id,
          number: row.number,
          jobId: row.job_id,
          jobNumber: job?.number ?? null,
          state: row.state,
          title,
          forWhom,
          vehicleId: job ? job.vehicle_id : vehicleId,
          whose: [whom, named?.plate].filter(Boolean).join(' · '),
          total: { amount: row.total, currency: row.currency },
          madeAt: toIso(row.made_ms, row.made_offset),
        };
      }),
    };
  },
  'quotes.pdf': async (desk, { quoteId, paper, issue }) => {
    const row = await quoteOr404(desk, quoteId);
    const terms = await readQuoteTerms(desk.db);
    const { head, body, atMs, answer } = await headOf(desk, row, issue);
    const logo = await readLogo(desk.db);
    const { bytes, missing } = await quotePdf(
      { body, head, footWords: terms.footWords, madeAt: new Date(atMs), logo, answer },
      fontsOf(desk),
      paper ?? terms.paper,
    );
    return {
      fileName: `quote-${row.number}${head.issue > 1 ? `-${head.issue}` : ''}.pdf`,
      base64: Buffer.from(bytes).toString('base64'),
      bytes: bytes.length,
      missing,
    };
  },
  'quotes.text': async (desk, { quoteId, issue }) => {
    const { head, body } = await headOf(desk, await quoteOr404(desk, quoteId), issue);
    return { text: quoteText(body, head) };
  },
} satisfies Group<'quotes.'>;

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
  refusePast(desk, body);
  const now = desk.now();
  const saved = await saveQuote(desk, row, ifVersion, { state: 'issued' });
  await insertIssue(desk.db, {
    quote_id: row.id,
    seq: (await issuesOf(desk.db, row.id)).length + 1,
    body: row.body,
    total: row.total,
    issued_ms: now.ms,
    issued_offset: now.offset,
    valid_until: body.validUntil ?? dayAfter(now.ms, now.offset, body.validDays),
    answer: null,
  });
  if (row.job_id !== null) await stopAboveApproval(desk, row.job_id);
  return viewQuote(desk, saved);
}
