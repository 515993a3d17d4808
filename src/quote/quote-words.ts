import { moneyWords } from './money.ts';
import { linesOfOption, prepaid, priceQuote } from './price-quote.ts';
import type { QuoteBody, QuoteLine } from './quote-form.ts';

/** What is printed at the head and foot of a quote. */
export interface QuoteHead {
  readonly shopName: string;
  readonly address: string;
  readonly phone: string;
  readonly number: number;
  /** Which issue of it, 0 for a draft. */
  readonly issue: number;
  readonly date: string;
  readonly validUntil: string;
  readonly customer: string | null;
  readonly vehicle: string | null;
  readonly plate: string | null;
  readonly jobNumber: number | null;
}

/** Options as they are shown: a quote without options has one that has no name. */
export const optionsOf = (body: QuoteBody): { optionId: string | null; title: string; note: string }[] =>
  body.options.length === 0 ? [{ optionId: null, title: '', note: '' }] : [...body.options];

/** The words a customer signs around the list of safety repairs that are left undone. */
export const declineStatement = {
  before: 'I was told that my vehicle is unsafe to ride until this is done:',
  after:
    'I do not want it done now. I know that riding the vehicle as it is may lead to an accident, injury or death.',
} as const;

/** The words a customer signs when leaving a safety repair undone; empty where the lines have none. */
export function declineWords(lines: readonly QuoteLine[]): string {
  const safety = lines.filter((line) => line.isSafety).map((line) => line.words);
  if (safety.length === 0) return '';
  return `${declineStatement.before} ${safety.join('; ')}. ${declineStatement.after}`;
}

/** Discount as a sentence piece, empty for none. */
const off = (percent: string | null): string =>
  percent === null || Number(percent) === 0 ? '' : `, ${percent} % off`;

/** What the customer said to the version that is printed. */
export interface PrintedAnswer {
  readonly date: string;
  readonly who: string;
  readonly how: string;
  readonly optionTitle: string | null;
  readonly declinedLineIds: ReadonlySet<string>;
  /** Minor units. */
  readonly total: number;
}

export const quantityWords = (line: QuoteLine): string =>
  line.kind === 'labor'
    ? line.minutes === null
      ? `${line.quantity} h`
      : `${line.minutes} min`
    : line.quantity === '1'
      ? ''
      : `${line.quantity} ×`;

/** Who pays, as the customer reads it. */
export const payerWords = {
  customer: '',
  warranty: 'paid by warranty',
  goodwill: 'our goodwill',
  internal: 'paid by us',
} as const;

/** A quote as plain text for a message: no columns, no signs that a phone could break. */
export function quoteText(body: QuoteBody, head: QuoteHead): string {
  const { currency } = body.terms;
  const money = (minor: number): string => moneyWords({ amount: minor, currency });
  const out: string[] = [
    `${head.shopName || 'Workshop'}: ${head.issue === 0 ? 'draft of quote' : 'quote'} ${head.number}${head.issue > 1 ? ` (version ${head.issue})` : ''}, ${head.date}`,
    [head.vehicle, head.plate].filter(Boolean).join(', '),
    head.customer ? `For ${head.customer}` : '',
    body.title,
  ].filter(Boolean);
  for (const option of optionsOf(body)) {
    const priced = priceQuote(body, option.optionId);
    out.push('');
    if (option.title) out.push(`${option.title}${option.note ? `: ${option.note}` : ''}`);
    for (const line of linesOfOption(body, option.optionId)) {
      const { net } = priced.lines.find((one) => one.lineId === line.lineId) ?? { net: 0 };
      const paid = payerWords[line.payer] ? ` (${payerWords[line.payer]})` : '';
      const count = quantityWords(line);
      out.push(
        `- ${count ? `${count} ` : ''}${line.words}${off(line.discountPercent)}: ${money(net)}${paid}`,
      );
    }
    if (body.discountPercent && Number(body.discountPercent) > 0)
      out.push(`Discount ${body.discountPercent} % is included.`);
    const own = priced.byPayer.find((one) => one.payer === 'customer');
    for (const tax of own?.taxes ?? []) out.push(`${tax.title} ${tax.percent} %: ${money(tax.tax)}`);
    if (priced.deposits !== 0)
      out.push(`Of this deposit for old parts, given back with them: ${money(priced.deposits)}`);
    out.push(`To pay: ${money(priced.customer.total)}`);
    if (priced.customer.cash !== priced.customer.total) out.push(`In cash: ${money(priced.customer.cash)}`);
    const ahead = prepaid(body, priced.customer.total);
    if (ahead) out.push(`To pay before we start: ${money(ahead.ahead)}, then ${money(ahead.rest)}`);
  }
  out.push('');
  if (body.note) out.push(body.note);
  out.push(`Valid until ${head.validUntil}. We do nothing beyond this without asking you first.`);
  if (head.phone) out.push(`Questions: ${head.phone}`);
  return out.join('\n');
}
