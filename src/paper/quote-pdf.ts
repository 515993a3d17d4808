import {
  declineWords,
  linesOfOption,
  moneyWords,
  optionsOf,
  priceQuote,
  type QuoteBody,
  type QuoteHead,
  quantityWords,
} from '../quote/index.ts';
import { type Fonts, type PaperSize, Sheet } from './sheet.ts';

export interface QuotePaper {
  readonly body: QuoteBody;
  readonly head: QuoteHead;
  readonly footWords: string;
  readonly madeAt: Date;
  /** PNG or JPEG bytes. */
  readonly logo?: Uint8Array | null;
}

export interface PrintedQuote {
  readonly bytes: Uint8Array;
  /** Signs that the typefaces lack: each is printed as a box. */
  readonly missing: string;
}

/** Widths of quantity, unit price and amount. */
const columns = [70, 80, 90];

/** A quote as a PDF file, with the words to sign for each safety repair that may be declined. */
export async function quotePdf(paper: QuotePaper, fonts: Fonts, size: PaperSize): Promise<PrintedQuote> {
  const { body, head } = paper;
  const { currency } = body.terms;
  const money = (minor: number): string => moneyWords({ amount: minor, currency });
  const name = `${head.issue === 0 ? 'Draft of quote' : 'Quote'} ${head.number}`;
  const sheet = new Sheet(fonts, size, `${name}, ${head.shopName}`, paper.madeAt);

  if (head.shopName) sheet.text(head.shopName, 15, 'bold');
  const address = [head.address.replace(/\s*\n\s*/g, ', '), head.phone].filter(Boolean).join(' · ');
  if (address) sheet.text(address, 9);
  sheet.gap(14);
  sheet.text(`${name}${head.issue > 1 ? `, version ${head.issue}` : ''}`, 18, 'bold');
  sheet.gap(2);
  const facts = [
    ['Date', head.date],
    ['Valid until', head.validUntil],
    ['Customer', head.customer],
    ['Vehicle', [head.vehicle, head.plate].filter(Boolean).join(', ')],
    ['Job', head.jobNumber === null ? '' : String(head.jobNumber)],
  ] as const;
  for (const [label, value] of facts) if (value) sheet.text(`${label}: ${value}`, 10);
  sheet.gap(6);
  if (body.title) sheet.text(body.title, 11, 'bold');

  for (const option of optionsOf(body)) {
    const priced = priceQuote(body, option.optionId);
    sheet.gap(10);
    sheet.need(80);
    if (option.title) sheet.text(option.title, 12, 'bold');
    if (option.note) sheet.text(option.note, 9);
    sheet.gap(2);
    sheet.row(['Work and parts', 'Quantity', 'Unit price', 'Amount'], columns, 9, 'bold');
    sheet.rule();
    for (const line of linesOfOption(body, option.optionId)) {
      const own = priced.lines.find((one) => one.lineId === line.lineId);
      const notes = [
        line.partNumber ? `No. ${line.partNumber}` : '',
        own && own.discount > 0 ? `discount ${money(own.discount)}` : '',
        line.payer === 'customer' ? '' : `paid by: ${line.payer}`,
      ].filter(Boolean);
      const words = `${line.words}${line.isSafety ? ' (safety repair)' : ''}`;
      sheet.row(
        [words, quantityWords(line).replace(' ×', '') || '1', line.unitPrice, money(own?.net ?? 0)],
        columns,
      );
      if (notes.length > 0) sheet.text(notes.join(' · '), 8, 'regular', 8);
    }
    sheet.rule();
    const own = priced.byPayer.find((one) => one.payer === 'customer');
    const total = (label: string, value: string, weight: 'regular' | 'bold' = 'regular'): void =>
      sheet.row(['', label, value], [170, 90], weight === 'bold' ? 11 : 10, weight);
    if (own && own.net !== own.total) total('Net', money(own.net));
    for (const tax of own?.taxes ?? []) total(`${tax.title} ${tax.percent} %`, money(tax.tax));
    total('To pay', money(priced.customer.total), 'bold');
    if (priced.customer.cash !== priced.customer.total) total('To pay in cash', money(priced.customer.cash));
    if (priced.deposits !== 0)
      sheet.text(`Of this ${money(priced.deposits)} is a deposit for old parts, given back with them.`, 9);
    for (const other of priced.byPayer.filter((one) => one.payer !== 'customer'))
      sheet.text(`Not charged to you (${other.payer}): ${money(other.total)}.`, 9);
  }

  sheet.gap(10);
  if (body.note) sheet.text(body.note, 10);
  sheet.text('We do nothing beyond this quote without asking you first.', 10);
  if (paper.footWords) sheet.text(paper.footWords, 9);
  sheet.signature('Accepted: date, name, signature');
  const decline = declineWords(body.lines);
  if (decline) {
    sheet.gap(12);
    sheet.need(120);
    sheet.text('If a safety repair is declined', 11, 'bold');
    sheet.text(decline, 10);
    sheet.signature('Declined: date, name, signature');
  }
  const bytes = await sheet.finish(`${head.shopName || 'Bench Tally'} · ${name}`);
  return { bytes, missing: sheet.missing };
}
