import { z } from 'zod';
import {
  instant,
  limit,
  minutes,
  money,
  note,
  line as oneLine,
  share,
  slug,
  uuid,
  version,
} from './basics.ts';
import { procedure } from './procedure.ts';
import { readingsList } from './readings.ts';

export const estimate = z.strictObject({
  words: z.string(),
  likeliest: z.array(
    z.strictObject({
      causeId: slug,
      title: z.string(),
      probability: share,
      price: money,
      minutes: z.number(),
    }),
  ),
  low: money,
  /** Null where the share that is not in the book leaves the upper end open. */
  high: money.nullable(),
  worst: z.strictObject({ causeId: slug, title: z.string(), price: money }).nullable(),
  diagnosisFee: money,
  unlisted: share,
});

const decimal = z.string().regex(/^\d{1,9}(\.\d{1,6})?$/, 'a number such as 12.50');
const percent = z.string().regex(/^\d{1,3}(\.\d{1,4})?$/, 'percent such as 7.5');

export const taxRate = z.strictObject({ id: slug, title: oneLine, percent });
export const quoteTerms = z.strictObject({
  taxRates: z.array(taxRate).max(8),
  /** Taken for lines that name none; null for no tax. */
  usualTaxRateId: slug.nullable(),
  /** Tax is rounded on each line, or once per rate on the document. */
  taxPer: z.enum(['line', 'document']),
  taxRounding: z.enum(['half-away', 'half-even', 'down', 'up']),
  /** Minor units of the smallest coin in cash; null where every coin is in use. */
  cashStep: z.int().min(1).max(100_000).nullable(),
  validDays: z.int().min(1).max(365),
  paper: z.enum(['A4', 'Letter']),
  /** Printed at the foot of every quote. */
  footWords: z.string().trim().max(1000),
});

export const payer = z.enum(['customer', 'warranty', 'goodwill', 'internal']);
export const newQuoteLine = z.strictObject({
  lineId: uuid.optional(),
  kind: z.enum(['labor', 'part', 'fee', 'deposit']),
  words: oneLine,
  partNumber: z.string().trim().max(80).nullish(),
  /** Pieces, or hours for labor. */
  quantity: decimal.optional(),
  /** For labor, in place of hours: charged exactly. */
  minutes: minutes.nullish(),
  unitPrice: z.string().regex(/^-?\d{1,9}(\.\d{1,6})?$/, 'a number such as 12.50'),
  discountPercent: percent.nullish(),
  /** Left out: the usual one. */
  taxRateId: slug.nullable().optional(),
  payer: payer.optional(),
  optionId: slug.nullish(),
  safety: z.boolean().optional(),
  /** The cause of the book whose repair it belongs to. */
  causeId: slug.nullish(),
});
export const quoteOption = z.strictObject({ optionId: slug, title: oneLine, note: note.optional() });

export const quoteLine = z.strictObject({
  lineId: uuid,
  kind: z.enum(['labor', 'part', 'fee', 'deposit']),
  words: z.string(),
  partNumber: z.string().nullable(),
  quantity: z.string(),
  /** Of labor that is charged by the minute; null for hours and for everything else. */
  minutes: z.number().nullable(),
  unitPrice: z.string(),
  discountPercent: z.string().nullable(),
  taxRateId: z.string().nullable(),
  payer,
  optionId: z.string().nullable(),
  safety: z.boolean(),
  causeId: z.string().nullable(),
});

const taxSum = z.strictObject({ title: z.string(), percent: z.string(), base: money, tax: money });
export const pricedOption = z.strictObject({
  optionId: z.string().nullable(),
  title: z.string(),
  note: z.string(),
  lines: z.array(z.strictObject({ lineId: uuid, gross: money, discount: money, net: money, tax: money })),
  net: money,
  discount: money,
  tax: money,
  deposits: money,
  total: money,
  byPayer: z.array(z.strictObject({ payer, net: money, taxes: z.array(taxSum), total: money })),
  customer: z.strictObject({ total: money, cash: money }),
  /** What the customer pays before parts are ordered, and what is left; null where nothing is asked ahead. */
  prepaid: z.strictObject({ ahead: money, rest: money }).nullable(),
});

export const quoteAnswer = z.strictObject({
  at: instant,
  who: z.string(),
  how: z.enum(['in-person', 'phone', 'message']),
  optionId: z.string().nullable(),
  declinedLineIds: z.array(uuid),
  total: money,
  words: z.string(),
});

/** Whether the work may go on within what the customer approved. */
export const gate = z.strictObject({
  approved: money.nullable(),
  asked: money,
  isCovered: z.boolean(),
  /** Of a draft: what all quotes of the job ask for once it is issued as it stands. */
  ifIssued: money.nullable(),
  says: z.string(),
});

/** What the job took against what was quoted, before tax. */
export const against = z.strictObject({
  /** The quotes that were compared: this one, and others that were accepted on the job. */
  numbers: z.array(z.int()),
  quotedMinutes: z.number(),
  actualMinutes: z.number(),
  quoted: money,
  actual: money,
  parts: z.array(
    z.strictObject({
      words: z.string(),
      partNumber: z.string().nullable(),
      quoted: z.string(),
      used: z.number(),
    }),
  ),
  /** Used parts that have no price, and so are not in `actual`. */
  unpriced: z.array(z.string()),
});

export const quote = z.strictObject({
  quoteId: uuid,
  number: z.int(),
  version,
  jobId: uuid.nullable(),
  state: z.enum(['draft', 'issued', 'accepted', 'declined']),
  title: z.string(),
  note: z.string(),
  discountPercent: z.string().nullable(),
  currency: z.string(),
  taxRates: z.array(taxRate),
  /** YYYY-MM-DD; null for the usual number of days after it is issued. */
  validUntil: z.string().nullable(),
  /** Asked for before parts are ordered, as a decimal string. */
  prepay: z.string().nullable(),
  /** For whom a quote without a job is. */
  forWhom: z.string(),
  vehicleId: uuid.nullable(),
  /** As printed at the head. */
  customer: z.string().nullable(),
  vehicle: z.string().nullable(),
  plate: z.string().nullable(),
  jobNumber: z.int().nullable(),
  options: z.array(z.strictObject({ optionId: slug, title: z.string(), note: z.string() })),
  lines: z.array(quoteLine),
  priced: z.array(pricedOption),
  /** Every version that was handed out, as it was, with what the customer said to it. */
  issues: z.array(
    z.strictObject({
      issue: z.int(),
      at: instant,
      validUntil: z.string(),
      total: money,
      answer: quoteAnswer.nullable(),
    }),
  ),
  answer: quoteAnswer.nullable(),
  gate: gate.nullable(),
  /** What a customer signs who leaves a safety repair undone; empty where none is quoted. */
  declineWords: z.string(),
  /** The same without the list, to set it around the repairs that are left undone. */
  declineStatement: z.strictObject({ before: z.string(), after: z.string() }),
  /** Null for a quote without a job, and before anything is booked on it. */
  against: against.nullable(),
});

export const quoteRow = z.strictObject({
  quoteId: uuid,
  number: z.int(),
  jobId: uuid.nullable(),
  jobNumber: z.int().nullable(),
  state: z.enum(['draft', 'issued', 'accepted', 'declined']),
  title: z.string(),
  forWhom: z.string(),
  /** Of the job, or of the quote itself where it has none. */
  vehicleId: uuid.nullable(),
  /** Customer and plate, as far as they are known. */
  whose: z.string(),
  total: money,
  madeAt: instant,
});

export type Estimate = z.infer<typeof estimate>;
export type QuoteView = z.infer<typeof quote>;
export type QuoteSettings = z.infer<typeof quoteTerms>;
export type NewQuoteLine = z.infer<typeof newQuoteLine>;
export type PricedOptionView = z.infer<typeof pricedOption>;

const ofQuote = { quoteId: uuid, ifVersion: version.optional() };

export const quoteProcedures = {
  'quotes.estimate': procedure({
    kind: 'read',
    does: 'Says before diagnosis what the trouble may cost. An estimate, not a quote.',
    input: z.strictObject({ symptomId: slug, modelId: slug.optional(), readings: readingsList.optional() }),
    output: estimate,
  }),
  'quotes.terms': procedure({
    kind: 'write',
    does: 'Reads how quotes are taxed, rounded and printed, and changes what is given.',
    input: z.strictObject({ set: quoteTerms.partial().optional() }),
    output: quoteTerms,
  }),
  'quotes.logo': procedure({
    kind: 'write',
    does: "Reads the shop's picture for the head of quotes, keeps a new one (PNG or JPEG up to 300 kB), or takes it away.",
    input: z.strictObject({ base64: z.base64().max(420_000).nullable().optional() }),
    output: z.strictObject({
      logo: z
        .strictObject({
          kind: z.enum(['png', 'jpeg']),
          width: z.int(),
          height: z.int(),
          bytes: z.int(),
          base64: z.string(),
        })
        .nullable(),
    }),
  }),
  'quotes.draft': procedure({
    kind: 'write',
    does: 'Makes a quote or changes one; with causes it writes the lines for labor and fitting parts, stock first.',
    input: z.strictObject({
      quoteId: uuid.optional(),
      ifVersion: version.optional(),
      jobId: uuid.optional(),
      /** Causes of the book to quote for the vehicle of the job; left out with `fromJob`, the proven ones. */
      causeIds: z.array(slug).max(20).optional(),
      fromJob: z.boolean().optional(),
      /** Without a job: the machine that parts must fit; null takes it off again. */
      vehicleId: uuid.nullable().optional(),
      modelId: slug.optional(),
      /** Without a job: for whom it is, in words. */
      forWhom: z.string().trim().max(200).optional(),
      validUntil: z.iso.date().nullable().optional(),
      prepay: decimal.nullable().optional(),
      title: z.string().trim().max(200).optional(),
      options: z.array(quoteOption).max(4).optional(),
      lines: z.array(newQuoteLine).max(200).optional(),
      discountPercent: percent.nullable().optional(),
      note: note.optional(),
    }),
    output: quote,
  }),
  'quotes.add': procedure({
    kind: 'write',
    does: 'Adds a part with its price and core deposit: to this quote, the newest draft of the job, or a new one. Once more counts up.',
    input: z.strictObject({
      /** Made by the caller: sent again, it adds nothing. */
      addId: uuid.optional(),
      quoteId: uuid.optional(),
      jobId: uuid.optional(),
      /** Whose a new quote without a job is. */
      vehicleId: uuid.optional(),
      forWhom: z.string().trim().max(200).optional(),
      partNumber: z.string().trim().min(1).max(80),
      quantity: z.int().min(1).max(1000).optional(),
      optionId: slug.optional(),
      /** A part that is out of use goes on only with this; without it the answer names what replaces it. */
      evenRetired: z.boolean().optional(),
    }),
    output: z.strictObject({ quote, lineId: uuid, says: z.string(), isNew: z.boolean() }),
  }),
  'quotes.attach': procedure({
    kind: 'write',
    does: 'Puts a quote without a job onto a job card; what the customer said to it already goes with it.',
    input: z.strictObject({ ...ofQuote, jobId: uuid }),
    output: quote,
  }),
  'quotes.issue': procedure({
    kind: 'write',
    does: 'Fixes the quote as it is, with a date until which it holds; a total above what was approved stops the job.',
    input: z.strictObject(ofQuote),
    output: quote,
  }),
  'quotes.accept': procedure({
    kind: 'write',
    does: 'Keeps who accepted which option and lines, how and when; declined lines become advisories.',
    input: z.strictObject({
      ...ofQuote,
      optionId: slug.optional(),
      declinedLineIds: z.array(uuid).max(200).optional(),
      who: oneLine,
      how: z.enum(['in-person', 'phone', 'message']),
      words: note.optional(),
    }),
    output: quote,
  }),
  'quotes.get': procedure({
    kind: 'read',
    does: 'One quote with its sums, issues, answer and the approval gate of its job.',
    input: z.strictObject({ quoteId: uuid }),
    output: quote,
  }),
  'quotes.list': procedure({
    kind: 'read',
    does: 'Quotes, newest first: of one job, those without a job (free), or all.',
    input: z.strictObject({ jobId: uuid.optional(), free: z.boolean().optional(), limit: limit.optional() }),
    output: z.strictObject({ quotes: z.array(quoteRow) }),
  }),
  'quotes.pdf': procedure({
    kind: 'read',
    does: 'The quote as a PDF file, A4 or Letter; an earlier version by its issue.',
    input: z.strictObject({
      quoteId: uuid,
      issue: z.int().min(1).optional(),
      paper: z.enum(['A4', 'Letter']).optional(),
    }),
    output: z.strictObject({
      fileName: z.string(),
      base64: z.string(),
      bytes: z.int(),
      /** Signs of names and lines that the typeface cannot draw, printed as a question mark; empty as a rule. */
      missing: z.string(),
    }),
  }),
  'quotes.text': procedure({
    kind: 'read',
    does: 'The quote as plain text for a message.',
    input: z.strictObject({ quoteId: uuid, issue: z.int().min(1).optional() }),
    output: z.strictObject({ text: z.string() }),
  }),
} as const;
