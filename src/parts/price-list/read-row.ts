import { isCurrency } from '../../terms.ts';
import { readGtin } from '../gtin.ts';
import { partKey } from '../number.ts';
import type { Places } from './columns.ts';
import { type DecimalSign, readDecimalOr } from './read-decimal.ts';
import type { ListRecord } from './read-records.ts';

/** One line of a price list as it is kept. Decimal strings. */
export interface ListRow {
  readonly partId: string;
  readonly number: string;
  readonly title: string;
  readonly price: string;
  readonly currency: string;
  readonly cost: string | null;
  readonly core: string | null;
  readonly gtin: string | null;
}
export type RowRead =
  /** `note`: it is kept, and something should be looked at. */
  | { readonly ok: true; readonly row: ListRow; readonly note: string | null }
  | { readonly ok: false; readonly why: string };

const mostDigits = 4;
const longestNumber = 60;
const longestTitle = 200;

/** Signs that belong to one currency (common practice, no source). */
const symbols: Readonly<Record<string, string>> = {
  '€': 'EUR',
  '£': 'GBP',
  '₹': 'INR',
  '₺': 'TRY',
  '₩': 'KRW',
  R$: 'BRL',
  zł: 'PLN',
  Kč: 'CZK',
};

/** The first cell of a line that adds up the lines above it. */
const isSum =
  /^(?:(?:grand|sub)[\s-]*)?(?:totals?|sum|summe|gesamt|gesamtsumme|zwischensumme|totale|somme|suma)(?:$|[:\s])/i;
/** A failed formula, or a long number cut to its first digits. */
const isFailed = /^(?:#(?:N\/A|REF!|VALUE!|NAME\?|DIV\/0!|NUM!|NULL!)|\d(?:[.,]\d+)?E\+\d+)$/i;
const hasMonth =
  /(?:^|[\d\s.-])(?:jan|feb|mar|mär|mrz|apr|may|mai|jun|jul|aug|sept?|oct|okt|nov|dec|dez)(?:$|[\d\s.-])/i;

/** Signs that no text has (a 0, a bell): where they stand, the file was damaged. A tab or line end is a blank. */
const damage = /[^\P{Cc}\t\n\r\v\f]/u;

/**
 * A cell without what spreadsheets put around it to keep a text a text: `="00123"`, an apostrophe before.
 */
function unwrapped(cell: string): string {
  const text = cell.trim();
  const first = text.charCodeAt(0);
  if (first === 61) return /^="([^"]*)"$/.exec(text)?.[1]?.trim() ?? text;
  return first === 39 ? text.slice(1).trim() : text;
}

const short = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text);

/** Reads a price, cost or deposit: a decimal string, or why not. */
function readMoney(
  what: string,
  text: string,
  sign: DecimalSign,
): { readonly value: string } | { readonly why: string } {
  // Of "3.50" some spreadsheets make the third month.
  if (hasMonth.test(text)) return { why: `the ${what} “${short(text)}” is a date` };
  const read = readDecimalOr(text, sign);
  if (!read.ok)
    return {
      why:
        read.why === 'too-large'
          ? `the ${what} ${short(text)} is above 999,999,999`
          : text.startsWith('=')
            ? `the ${what} “${short(text)}” is a formula, not its result`
            : `the ${what} “${short(text)}” is no number`,
    };
  const { value } = read;
  if (value.startsWith('-')) return { why: `the ${what} ${short(text)} is below zero` };
  const point = value.indexOf('.');
  if (point >= 0 && value.length - point - 1 > mostDigits)
    return { why: `the ${what} ${short(text)} has more than ${mostDigits} decimals` };
  return { value };
}

/** Reads one record: what it says, or why it cannot be kept. @param currency the shop's, where the list names none @param width how many columns the headings have */
export function readRow(
  record: ListRecord,
  places: Places,
  sign: DecimalSign,
  currency: string,
  width = Number.POSITIVE_INFINITY,
): RowRead {
  if (record.problem) return { ok: false, why: record.problem };
  const { fields } = record;
  const at = (place: number | undefined): string =>
    place === undefined ? '' : unwrapped(fields[place] ?? '');
  const no = (why: string): RowRead => ({ ok: false, why });

  const number = at(places.number);
  if (number === '')
    return no(
      fields.every((field) => field.trim() === '') ? 'the line has no values' : 'the part number is missing',
    );
  if (number.length > longestNumber) return no(`the part number is longer than ${longestNumber} signs`);
  if (record.text.includes('\ufffd')) return no('some letters cannot be read');
  if (damage.test(record.text)) return no('the line has signs that no text has: the file is damaged there');
  // A comma within a price or a text that no quotes hold together shifts what follows: no such row is guessed at.
  if (fields.length > width && fields.slice(width).some((field) => field !== ''))
    return no(
      `the line has more fields than the ${width} headings: put quotes around a field that holds the dividing sign`,
    );
  if (isSum.test(number)) return no(`“${short(number)}” is a sum, no part`);
  if (isFailed.test(number)) return no(`“${short(number)}” is what a spreadsheet made of a part number`);
  const partId = partKey(number);
  if (partId === '') return no(`“${number}” is no part number`);

  const priceText = at(places.price);
  if (priceText === '') return no('the price is missing');
  const price = readMoney('price', priceText, sign);
  if ('why' in price) return no(price.why);
  if (Number(price.value) === 0) return no('the price is 0, which is no price');

  const named = places.currency === undefined ? '' : at(places.currency).toUpperCase();
  const beside = named === '' ? currencyIn(priceText, currency) : null;
  if (beside === unknown)
    return no(`the currency of “${short(priceText)}” cannot be told: name it by its code of three letters`);
  const code = named === '' ? (beside ?? currency) : (symbols[named] ?? named);
  if (!/^[A-Z]{3}$/.test(code))
    return no(`the currency “${short(named || code)}” is no code of three letters`);
  if (!isCurrency(code)) return no(`no currency has the code “${code}” (ISO 4217)`);

  const more: { cost: string | null; core: string | null } = { cost: null, core: null };
  for (const [column, what] of [
    ['cost', 'cost'],
    ['core', 'deposit'],
  ] as const) {
    const text = at(places[column]);
    if (text === '') continue;
    const read = readMoney(what, text, sign);
    if ('why' in read) return no(read.why);
    more[column] = read.value;
  }
  if (more.core !== null && Number(more.core) === 0) more.core = null;

  const gtinText = at(places.gtin);
  const gtin = gtinText === '' ? null : readGtin(gtinText);
  return {
    ok: true,
    row: {
      partId,
      number: /\s/.test(number) ? number.replace(/\s+/g, ' ') : number,
      title: places.title === undefined ? '' : titleOf(fields[places.title]?.trim() ?? ''),
      price: price.value,
      currency: code,
      ...more,
      gtin: gtin?.ok ? gtin.gtin14 : null,
    },
    note: gtin && !gtin.ok ? `the barcode ${short(gtinText)} is left out: ${gtin.why}` : null,
  };
}

function titleOf(cell: string): string {
  // An apostrophe keeps a spreadsheet from calculating what begins like a formula; others belong to the words.
  const text = /^'[=+@-]/.test(cell) ? cell.slice(1) : cell;
  const line = /[\t\n\r\v\f\u2028\u2029]/.test(text) ? text.replace(/\s+/g, ' ') : text;
  return line.length > longestTitle
    ? line
        .slice(0, longestTitle)
        .toWellFormed()
        .replace(/\ufffd$/, '')
    : line;
}

const unknown = '?';

/** A currency that stands beside the price itself; null where there is none, `unknown` where it is a sign of several. */
function currencyIn(priceText: string, shops: string): string | null {
  // Most prices are digits alone.
  if (/^[\d.,]*$/.test(priceText)) return null;
  const code = /(?:^|[^A-Za-z])([A-Z]{3})(?:$|[^A-Za-z])/.exec(priceText)?.[1];
  if (code) return code;
  if (/us\s*\$/i.test(priceText)) return 'USD';
  const sign = /(?:\p{L}{1,2})?\p{Sc}|\bkr\b|zł|kč/iu.exec(priceText)?.[0];
  if (!sign) return null;
  // A sign that several countries use is the shop's where it is one of theirs.
  const several = Object.entries(shared).find(([one]) => one === sign.toLowerCase())?.[1];
  return symbols[sign] ?? (several?.test(shops) ? null : unknown);
}

const shared: Readonly<Record<string, RegExp>> = {
  $: /^(?:..D|MXN|CLP|COP|ARS|UYU)$/,
  '¥': /^(?:JPY|CNY)$/,
  kr: /^(?:SEK|NOK|DKK|ISK)$/,
};
