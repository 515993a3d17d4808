import type { Rounding } from './exact.ts';

export const payers = ['customer', 'warranty', 'goodwill', 'internal'] as const;
export type Payer = (typeof payers)[number];

export interface QuoteLine {
  readonly lineId: string;
  readonly kind: 'labor' | 'part' | 'fee' | 'deposit';
  readonly words: string;
  readonly partNumber: string | null;
  /** Decimal string: pieces, or hours for labor. Of labor with `minutes` only what is shown. */
  readonly quantity: string;
  /** Of labor: what is charged, exactly; null where hours were typed, and for everything else. */
  readonly minutes: number | null;
  /** Decimal string, net, in the currency of the quote. */
  readonly unitPrice: string;
  /** Decimal string, percent off this line; null for none. */
  readonly discountPercent: string | null;
  /** Which of the tax rates; null for none. */
  readonly taxRateId: string | null;
  readonly payer: Payer;
  /** Null for a line that belongs to every option. */
  readonly optionId: string | null;
  /** Leaving it undone makes the machine unsafe. */
  readonly isSafety: boolean;
  /** The cause of the book whose repair it belongs to; null for a line typed by hand. */
  readonly causeId: string | null;
}

export interface TaxRate {
  readonly id: string;
  readonly title: string;
  /** Decimal string. */
  readonly percent: string;
}

export interface QuoteTerms {
  readonly currency: string;
  readonly taxRates: readonly TaxRate[];
  /** Tax is rounded on each line, or once per rate on the document. */
  readonly taxPer: 'line' | 'document';
  readonly taxRounding: Rounding;
  /** Minor units of the smallest coin in cash; null where every coin is in use. */
  readonly cashStep: number | null;
}

export interface QuoteOption {
  readonly optionId: string;
  readonly title: string;
  readonly note: string;
}

export interface QuoteBody {
  readonly title: string;
  readonly options: readonly QuoteOption[];
  readonly lines: readonly QuoteLine[];
  /** Decimal string, percent off the whole; deposits are left out. */
  readonly discountPercent: string | null;
  readonly note: string;
  readonly validDays: number;
  /** YYYY-MM-DD; null for `validDays` after it is issued. */
  readonly validUntil: string | null;
  /** Decimal string: what the customer pays ahead, before parts are ordered; null for nothing. */
  readonly prepay: string | null;
  /** For whom a quote without a job is: a name, a machine. */
  readonly forWhom: string;
  /** The vehicle of a quote without a job, where it is known. */
  readonly vehicleId: string | null;
  readonly terms: QuoteTerms;
}

/** A body as it was saved, by this version of the program or an earlier one, which knew fewer fields. */
export function readQuoteBody(json: string): QuoteBody {
  const saved = JSON.parse(json) as QuoteBody;
  return {
    ...saved,
    validUntil: saved.validUntil ?? null,
    prepay: saved.prepay ?? null,
    forWhom: saved.forWhom ?? '',
    vehicleId: saved.vehicleId ?? null,
    lines: saved.lines.map((line) => ({
      ...line,
      minutes: line.minutes ?? null,
      causeId: line.causeId ?? null,
    })),
  };
}
