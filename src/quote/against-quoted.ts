import { Decimal } from 'decimal.js';
import { Problem } from '../problem.ts';
import { toWhole } from './exact.ts';
import { amount, currencyDigits, laborAmount } from './money.ts';
import { linesOfOption, priceQuote } from './price-quote.ts';
import type { QuoteBody, QuoteLine } from './quote-form.ts';

/** What was booked on the job. */
export interface Booked {
  readonly minutes: number;
  readonly parts: readonly {
    /** Letters and digits only; null for a part without a number. */
    readonly key: string | null;
    readonly words: string;
    readonly quantity: number;
    /** Decimal string: present price of one, for what was not quoted; null where there is none. */
    readonly price: string | null;
  }[];
}

export interface PartAgainst {
  readonly words: string;
  readonly partNumber: string | null;
  /** Decimal string; "0" for what was used without being quoted. */
  readonly quoted: string;
  readonly used: number;
}

export interface AgainstQuoted {
  readonly quotedMinutes: number;
  readonly actualMinutes: number;
  readonly parts: readonly PartAgainst[];
  /** Minor units before tax and discounts: labor and parts as quoted. */
  readonly quotedAmount: number;
  /** The same for what was booked: minutes at the quoted rate, parts at the quoted price, else the present one. */
  readonly actualAmount: number;
  /** Booked parts that have no price, and so are not in `actualAmount`. */
  readonly unpriced: readonly string[];
}

const minutesOf = (line: QuoteLine): Decimal =>
  line.minutes === null ? amount(line.quantity, 'quantity').mul(60) : new Decimal(line.minutes);

/** A quote as it was accepted: the option taken, and the lines declined. */
export interface AcceptedQuote {
  readonly body: QuoteBody;
  readonly optionId: string | null;
  readonly declined: ReadonlySet<string>;
}

/** Labor and parts of a quote, each line with what it comes to before tax and discounts, minor units. */
function linesOf({ body, optionId, declined }: AcceptedQuote): { line: QuoteLine; gross: number }[] {
  const gross = new Map(priceQuote(body, optionId, declined).lines.map((line) => [line.lineId, line.gross]));
  return linesOfOption(body, optionId)
    .filter((line) => !declined.has(line.lineId) && (line.kind === 'labor' || line.kind === 'part'))
    .map((line) => ({ line, gross: gross.get(line.lineId) ?? 0 }));
}

/**
 * What a job took against what was quoted for it, in labor and parts; fees and deposits are left out. What is booked on a job
 * is booked for all of its quotes, so all that were accepted are taken together.
 * @param accepted one or more, of one currency
 * @param laborRate decimal string per hour, for labor where no quote has a labor line
 * @param keyOf a part number as letters and digits only
 * @throws Problem bad-input for none, or for quotes of several currencies
 */
export function againstQuoted(
  accepted: readonly AcceptedQuote[],
  booked: Booked,
  laborRate: string,
  keyOf: (partNumber: string) => string,
): AgainstQuoted {
  const [currency, ...others] = new Set(accepted.map(({ body }) => body.terms.currency));
  if (currency === undefined || others.length > 0)
    throw new Problem('bad-input', 'Only quotes of one currency can be compared with what was booked.', {
      field: 'currency',
    });
  const scale = new Decimal(10).pow(currencyDigits(currency));
  const lines = accepted.flatMap(linesOf);
  const labor = lines.filter(({ line }) => line.kind === 'labor').map(({ line }) => line);
  const quoted = lines.filter(({ line }) => line.kind === 'part').map(({ line }) => line);
  const quotedMinutes = labor.reduce((sum, line) => sum.plus(minutesOf(line)), new Decimal(0));
  const left = [...booked.parts];
  const unpriced: string[] = [];
  let actual = laborAmount(amount(labor[0]?.unitPrice ?? laborRate, 'laborRate'), booked.minutes);
  const isSame = (line: QuoteLine, one: Booked['parts'][number]): boolean =>
    line.partNumber === null
      ? one.words.toLowerCase() === line.words.toLowerCase()
      : one.key === keyOf(line.partNumber);
  // The same part on two quotes is one row: nobody can say for which of them it was used.
  const parts: PartAgainst[] = [];
  const same = Map.groupBy(quoted, (line) =>
    line.partNumber === null ? `words ${line.words.toLowerCase()}` : keyOf(line.partNumber),
  );
  for (const group of same.values()) {
    const [line] = group;
    if (!line) continue;
    let used = 0;
    for (let at = left.length - 1; at >= 0; at -= 1) {
      const one = left[at];
      if (!one || !isSame(line, one)) continue;
      used += one.quantity;
      left.splice(at, 1);
    }
    const wanted = group.reduce((sum, each) => sum.plus(amount(each.quantity, 'quantity')), new Decimal(0));
    actual = actual.plus(amount(line.unitPrice, 'unitPrice').mul(used));
    parts.push({ words: line.words, partNumber: line.partNumber, quoted: wanted.toFixed(), used });
  }
  for (const one of left) {
    if (one.price === null) unpriced.push(one.words);
    else actual = actual.plus(amount(one.price, 'price').mul(one.quantity));
    parts.push({ words: one.words, partNumber: one.key, quoted: '0', used: one.quantity });
  }
  return {
    quotedMinutes: quotedMinutes.toNumber(),
    actualMinutes: booked.minutes,
    parts,
    quotedAmount: lines.reduce((sum, { gross }) => sum + gross, 0),
    actualAmount: toWhole(actual.mul(scale)),
    unpriced,
  };
}
