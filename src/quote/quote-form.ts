import type { Rounding } from './exact.ts';

export const payers = ['customer', 'warranty', 'goodwill', 'internal'] as const;
export type Payer = (typeof payers)[number];

export interface QuoteLine {
  readonly lineId: string;
  readonly kind: 'labor' | 'part' | 'fee' | 'deposit';
  readonly words: string;
  readonly partNumber: string | null;
  /** Decimal string: pieces, or hours for labor. */
  readonly quantity: string;
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
  readonly terms: QuoteTerms;
}
