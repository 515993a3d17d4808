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

const symbols: Readonly<Record<string, string>> = { '€': 'EUR', '£': 'GBP' };

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

/** Reads one record: what it says, or why it cannot be kept. @param currency the shop's, where the list names none */
export function readRow(record: ListRecord, places: Places, sign: DecimalSign, currency: string): RowRead {
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
  const partId = partKey(number);
  if (partId === '') return no(`“${number}” is no part number`);

  const priceText = at(places.price);
  if (priceText === '') return no('the price is missing');
  const price = readMoney('price', priceText, sign);
  if ('why' in price) return no(price.why);
  if (Number(price.value) === 0) return no('the price is 0, which is no price');

  const named = places.currency === undefined ? '' : at(places.currency).toUpperCase();
  const code = named === '' ? (currencyIn(priceText) ?? currency) : (symbols[named] ?? named);
  if (!/^[A-Z]{3}$/.test(code)) return no(`the currency “${short(named)}” is no code of three letters`);

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

/** A currency that stands beside the price itself. */
function currencyIn(priceText: string): string | null {
  // Most prices are digits alone.
  if (/^[\d.,]*$/.test(priceText)) return null;
  const code = /(?:^|[^A-Za-z])([A-Z]{3})(?:$|[^A-Za-z])/.exec(priceText)?.[1];
  return code ?? symbols[/[€£]/.exec(priceText)?.[0] ?? ''] ?? null;
}
