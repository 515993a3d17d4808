import { Decimal } from 'decimal.js';
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

/**
 * What a job took against what was quoted for it, in labor and parts; fees and deposits are left out.
 * @param laborRate decimal string per hour, for labor on a quote without a labor line
 * @param keyOf a part number as letters and digits only
 */
export function againstQuoted(
  body: QuoteBody,
  optionId: string | null,
  declined: ReadonlySet<string>,
  booked: Booked,
  laborRate: string,
  keyOf: (partNumber: string) => string,
): AgainstQuoted {
  const scale = new Decimal(10).pow(currencyDigits(body.terms.currency));
  const lines = linesOfOption(body, optionId).filter((line) => !declined.has(line.lineId));
  const labor = lines.filter((line) => line.kind === 'labor');
  const quoted = lines.filter((line) => line.kind === 'part');
  const quotedMinutes = labor.reduce((sum, line) => sum.plus(minutesOf(line)), new Decimal(0));
  const left = [...booked.parts];
  const unpriced: string[] = [];
  let actual = laborAmount(amount(labor[0]?.unitPrice ?? laborRate, 'laborRate'), booked.minutes);
  const parts: PartAgainst[] = quoted.map((line) => {
    const key = line.partNumber === null ? null : keyOf(line.partNumber);
    let used = 0;
    for (let at = left.length - 1; at >= 0; at -= 1) {
      const one = left[at];
      if (!one || (key === null ? one.words.toLowerCase() !== line.words.toLowerCase() : one.key !== key))
        continue;
      used += one.quantity;
      left.splice(at, 1);
    }
    actual = actual.plus(amount(line.unitPrice, 'unitPrice').mul(used));
    return { words: line.words, partNumber: line.partNumber, quoted: line.quantity, used };
  });
  for (const one of left) {
    if (one.price === null) unpriced.push(one.words);
    else actual = actual.plus(amount(one.price, 'price').mul(one.quantity));
    parts.push({ words: one.words, partNumber: one.key, quoted: '0', used: one.quantity });
  }
  const priced = priceQuote(body, optionId, declined);
  const counted = new Set([...labor, ...quoted].map((line) => line.lineId));
  return {
    quotedMinutes: quotedMinutes.toNumber(),
    actualMinutes: booked.minutes,
    parts,
    quotedAmount: priced.lines
      .filter((line) => counted.has(line.lineId))
      .reduce((sum, line) => sum + line.gross, 0),
    actualAmount: toWhole(actual.mul(scale)),
    unpriced,
  };
}
