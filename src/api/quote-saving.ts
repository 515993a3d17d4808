import { Problem, quoted } from '../problem.ts';
import { optionsOf, priceQuote, type QuoteBody, readQuoteBody } from '../quote/index.ts';
import { findQuote, type QuoteRow, updateQuote } from '../store/index.ts';
import type { Desk } from './desk.ts';
import { changedMeanwhile } from './people.ts';

/** Finding and reading a quote, and saving a change with its version. */

export interface Answer {
  readonly at: string;
  readonly who: string;
  readonly how: 'in-person' | 'phone' | 'message';
  readonly optionId: string | null;
  readonly declinedLineIds: readonly string[];
  readonly total: number;
  readonly words: string;
}

export const readAnswer = (json: string | null): Answer | null =>
  json === null ? null : (JSON.parse(json) as Answer);

export const bodyOf = (row: Pick<QuoteRow, 'body'>): QuoteBody => readQuoteBody(row.body);

export async function quoteOr404(desk: Desk, quoteId: string): Promise<QuoteRow> {
  const row = await findQuote(desk.db, quoteId);
  if (!row)
    throw new Problem('not-found', `There is no quote ${quoted(quoteId)}.`, {
      field: 'quoteId',
      id: quoteId,
    });
  return row;
}

/** What a quote asks for: the dearest of its options. */
export const askedTotal = (body: QuoteBody): number =>
  Math.max(...optionsOf(body).map((option) => priceQuote(body, option.optionId).customer.total));

export async function saveQuote(
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
