import { Problem } from '../problem.ts';
import type { QuoteLine } from '../quote/index.ts';
import { listQuotes, type QuoteRow, wasMade } from '../store/index.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import { refuseRetired } from './out-of-use.ts';
import { draftQuote } from './quote-drafting.ts';
import { lineOf, linesForPart } from './quote-lines.ts';
import { askedTotal, bodyOf, quoteOr404, saveQuote } from './quote-saving.ts';
import { readQuoteTerms } from './quote-terms.ts';
import { viewQuote } from './quote-views.ts';

type Added = OutputOf<'quotes.add'>;

/** The quote that a part goes onto: the one that is named, else the newest draft of the job, else a new one. */
async function targetOf(
  desk: Desk,
  input: ParsedInputOf<'quotes.add'>,
): Promise<{ row: QuoteRow; isNew: boolean }> {
  if (input.quoteId !== undefined) {
    const row = await quoteOr404(desk, input.quoteId);
    if (row.state !== 'draft')
      throw new Problem(
        'not-allowed-now',
        `Quote ${row.number} was ${row.state} already; change it to issue it anew, then add to it.`,
        { field: 'quoteId', id: row.id },
      );
    return { row, isNew: false };
  }
  const { jobId } = input;
  const open =
    jobId === undefined
      ? undefined
      : (await listQuotes(desk.db, { jobId }, 100)).find((row) => row.state === 'draft');
  if (open) return { row: open, isNew: false };
  const { quoteId } = await draftQuote(desk, {
    ...(jobId === undefined ? {} : { jobId }),
    ...(input.vehicleId === undefined || jobId !== undefined ? {} : { vehicleId: input.vehicleId }),
    ...(input.forWhom === undefined || jobId !== undefined ? {} : { forWhom: input.forWhom }),
  });
  return { row: await quoteOr404(desk, quoteId), isNew: true };
}

const isSame = (one: QuoteLine, other: QuoteLine): boolean =>
  one.kind === other.kind &&
  one.partNumber === other.partNumber &&
  one.unitPrice === other.unitPrice &&
  one.optionId === other.optionId &&
  one.payer === 'customer';

/** Adds a part, with the deposit for the old one; a part that stands on the quote already counts up. */
export async function addPart(desk: Desk, input: ParsedInputOf<'quotes.add'>): Promise<Added> {
  const { addId, ...asked } = input;
  const again = addId !== undefined && (await wasMade(desk.db, addId, 'quote line', asked));
  if (!again) await refuseRetired(desk, input.partNumber, input.evenRetired);
  const { row, isNew } = await targetOf(desk, input);
  const body = bodyOf(row);
  const terms = await readQuoteTerms(desk.db);
  const more = (await linesForPart(desk, input.partNumber, input.quantity ?? 1, body.terms.currency)).map(
    (line) => lineOf(desk, { ...line, optionId: input.optionId ?? null }, terms),
  );
  const lines = [...body.lines];
  if (!again)
    for (const line of more) {
      const at = lines.findIndex((one) => isSame(one, line));
      const known = lines[at];
      if (known) lines[at] = { ...known, quantity: String(Number(known.quantity) + Number(line.quantity)) };
      else lines.push(line);
    }
  const [first] = more;
  const placed = lines.find((line) => first && isSame(line, first));
  if (!first || !placed)
    throw new Problem('conflict', 'The line was taken off the quote meanwhile; add it again.', {
      field: 'addId',
    });
  const next = { ...body, lines };
  const saved = again
    ? row
    : await saveQuote(desk, row, undefined, { body: JSON.stringify(next), total: askedTotal(next) });
  const count = placed.quantity === '1' ? '' : `, now ${placed.quantity} of it`;
  return {
    quote: await viewQuote(desk, saved),
    lineId: placed.lineId,
    says: `${first.words} is on ${isNew ? 'the new ' : ''}quote ${row.number}${count}.`,
    isNew,
  };
}
