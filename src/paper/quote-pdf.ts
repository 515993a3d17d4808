import {
  currencyDigits,
  declineStatement,
  linesOfOption,
  moneyWords,
  optionsOf,
  type PricedQuote,
  type PrintedAnswer,
  payerWords,
  prepaid,
  priceQuote,
  type QuoteBody,
  type QuoteHead,
  type QuoteLine,
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
  /** What the customer said to this version; left out while nobody answered. */
  readonly answer?: PrintedAnswer | null;
}

export interface PrintedQuote {
  readonly bytes: Uint8Array;
  /** Signs that the typefaces lack: each is printed as a question mark. */
  readonly missing: string;
}

/** Widths of quantity, unit price and amount, in points. */
const columns = [62, 82, 92];
/** The logo's corner, in points. */
const logoWidth = 150;
const logoHeight = 60;

/** A quote as a PDF file, with the words to sign for each safety repair that may be declined. */
export async function quotePdf(paper: QuotePaper, fonts: Fonts, size: PaperSize): Promise<PrintedQuote> {
  const { body, head } = paper;
  const name = `${head.issue === 0 ? 'Draft of quote' : 'Quote'} ${head.number}`;
  const sheet = new Sheet(fonts, size, `${name}, ${head.shopName}`, paper.madeAt);
  printHead(sheet, paper, name);
  for (const option of optionsOf(body)) {
    const priced = priceQuote(body, option.optionId);
    sheet.gap(10);
    sheet.need(110);
    if (option.title) sheet.text(option.title, 12, 'bold');
    if (option.note) sheet.text(option.note, 9);
    sheet.gap(2);
    printLines(sheet, body, option.optionId, priced);
    printSums(sheet, body, priced);
  }
  printFoot(sheet, paper);
  const bytes = await sheet.finish(`${head.shopName || 'Bench Tally'} · ${name}`);
  return { bytes, missing: sheet.missing };
}

const moneyOf =
  (body: QuoteBody) =>
  (minor: number): string =>
    moneyWords({ amount: minor, currency: body.terms.currency });

/** An amount under a heading that names the currency. */
const bareOf =
  (body: QuoteBody) =>
  (minor: number): string =>
    moneyOf(body)(minor).replace(` ${body.terms.currency}`, '');

function printHead(sheet: Sheet, { body, head, logo }: QuotePaper, name: string): void {
  const top = sheet.y;
  if (logo) sheet.cornerPicture(logo, logoWidth, logoHeight);
  const width = sheet.width - (logo ? logoWidth + 16 : 0);
  if (head.shopName) sheet.text(head.shopName, 15, 'bold', 0, width);
  for (const line of head.address.split(/\s*\n\s*/)) if (line) sheet.text(line, 9, 'regular', 0, width);
  if (head.phone) sheet.text(head.phone, 9, 'regular', 0, width);
  sheet.gap(Math.max(14, logo ? top + logoHeight + 14 - sheet.y : 0));
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
}

function printLines(sheet: Sheet, body: QuoteBody, optionId: string | null, priced: PricedQuote): void {
  const money = moneyOf(body);
  const bare = bareOf(body);
  const words = sheet.width - columns.reduce((sum, one) => sum + one, 0) - 8;
  const heading = (): void => {
    sheet.row(
      ['Work and parts', 'Quantity', 'Unit price', `Amount, ${body.terms.currency}`],
      columns,
      9,
      'bold',
    );
    sheet.rule();
  };
  sheet.repeating(heading, () => {
    for (const line of linesOfOption(body, optionId)) {
      const own = priced.lines.find((one) => one.lineId === line.lineId);
      const title = `${line.words}${line.isSafety ? ' (safety repair)' : ''}`;
      const notes = [
        line.partNumber ? `No. ${line.partNumber}` : '',
        own && own.discount > 0 ? `discount ${money(own.discount)}` : '',
        payerWords[line.payer],
      ]
        .filter(Boolean)
        .join(' · ');
      // A line stays on one page with what stands below it.
      sheet.need(sheet.heightOf(title, 10, words) + (notes ? 14 : 0));
      sheet.row([title, countOf(line), unitPriceOf(line, body.terms.currency), bare(own?.net ?? 0)], columns);
      if (notes) sheet.text(notes, 8, 'regular', 8, words);
      sheet.gap(2);
    }
  });
  sheet.rule();
}

const countOf = (line: QuoteLine): string => quantityWords(line).replace(' ×', '') || '1';
/** A unit price with at least the digits of its currency: 25 is 25.00. */
function unitPriceOf(line: QuoteLine, currency: string): string {
  const [whole = '', rest = ''] = line.unitPrice.split('.');
  const digits = rest.padEnd(currencyDigits(currency), '0');
  return `${whole}${digits ? `.${digits}` : ''}${line.kind === 'labor' ? ' / h' : ''}`;
}

function printSums(sheet: Sheet, body: QuoteBody, priced: PricedQuote): void {
  const money = moneyOf(body);
  const own = priced.byPayer.find((one) => one.payer === 'customer');
  const rows: [string, string, boolean?][] = [];
  if (own && own.net !== own.total) rows.push(['Net', money(own.net)]);
  for (const tax of own?.taxes ?? []) rows.push([`${tax.title} ${tax.percent} %`, money(tax.tax)]);
  rows.push(['To pay', money(priced.customer.total), true]);
  if (priced.customer.cash !== priced.customer.total)
    rows.push(['To pay in cash', money(priced.customer.cash)]);
  const ahead = prepaid(body, priced.customer.total);
  if (ahead)
    rows.push(['Of this before we start', money(ahead.ahead)], ['And when it is done', money(ahead.rest)]);
  // The sums are never torn from each other.
  sheet.need(rows.length * 18);
  for (const [label, value, isTotal] of rows)
    sheet.row(['', label, value], [190, 110], isTotal ? 11 : 10, isTotal ? 'bold' : 'regular');
  if (priced.deposits !== 0)
    sheet.text(`Of this ${money(priced.deposits)} is a deposit for old parts, given back with them.`, 9);
  for (const other of priced.byPayer.filter((one) => one.payer !== 'customer'))
    sheet.text(`Not charged to you, ${payerWords[other.payer]}: ${money(other.total)}.`, 9);
}

function printFoot(sheet: Sheet, { body, answer, footWords }: QuotePaper): void {
  sheet.gap(10);
  if (body.note) sheet.text(body.note, 10);
  sheet.text('We do nothing beyond this quote without asking you first.', 10);
  if (footWords) sheet.text(footWords, 9);
  if (answer) printAnswer(sheet, body, answer);
  else sheet.signature('Accepted: date, name, signature');
  const safety = body.lines.filter((line) => line.isSafety);
  const isAllDone = answer && !safety.some((line) => answer.declinedLineIds.has(line.lineId));
  if (safety.length === 0 || isAllDone) return;
  sheet.gap(12);
  const before = sheet.heightOf(declineStatement.before, 10, sheet.width);
  sheet.need(before + safety.length * 14 + 110);
  sheet.text('If a safety repair is declined', 11, 'bold');
  sheet.text(declineStatement.before, 10);
  for (const line of safety) sheet.tickLine(line.words, answer?.declinedLineIds.has(line.lineId) ?? false);
  sheet.text(declineStatement.after, 10);
  sheet.signature('Declined what is ticked: date, name, signature');
}

/** What was said, as it stands on the job card. */
function printAnswer(sheet: Sheet, body: QuoteBody, answer: PrintedAnswer): void {
  const money = moneyOf(body);
  const left = body.lines.filter((line) => answer.declinedLineIds.has(line.lineId));
  sheet.gap(8);
  sheet.need(40);
  const said = `${answer.date}, ${answer.who}, ${answer.how}`;
  const option = answer.optionTitle ? `, ${answer.optionTitle}` : '';
  const isNo = left.length > 0 && answer.total === 0;
  sheet.text(isNo ? `Declined: ${said}.` : `Accepted: ${said}${option}: ${money(answer.total)}.`, 10, 'bold');
  if (left.length > 0 && !isNo) sheet.text(`Left undone: ${left.map((line) => line.words).join('; ')}.`, 10);
}
