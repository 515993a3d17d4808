import { readGtin } from '../gtin.ts';
import { partKey } from '../number.ts';
import type { Places } from './columns.ts';
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
  | { readonly ok: true; readonly row: ListRow }
  | { readonly ok: false; readonly why: string };
export type DecimalSign = ',' | '.';

const mostDigits = 4;

/**
 * Reads a number as suppliers write it: thousands parted by point, comma, space or apostrophe, a currency sign around it.
 * @param sign what parts the decimals in this list; it decides only where one sign is followed by exactly three digits
 * @returns a decimal string, or null where it is no number
 */
export function readDecimal(text: string, sign: DecimalSign): string | null {
  const bare = text.replace(/[\s\u00a0\u202f'’]/g, '').replace(/^[^\d.,+-]+|[^\d.,]+$/g, '');
  const found = /^([+-]?)([\d.,]+)$/.exec(bare);
  if (!found || !/\d/.test(bare)) return null;
  const digits = found[2] as string;
  const points = digits.split('.').length - 1;
  const commas = digits.split(',').length - 1;
  let decimal: DecimalSign | null = null;
  if (points > 0 && commas > 0) decimal = digits.lastIndexOf(',') > digits.lastIndexOf('.') ? ',' : '.';
  else if (points + commas === 1) {
    const only: DecimalSign = points === 1 ? '.' : ',';
    decimal = /^\d{1,3}[.,]\d{3}$/.test(digits) && only !== sign ? null : only;
  }
  const thousands = decimal === ',' ? '.' : decimal === '.' ? ',' : points > 0 ? '.' : ',';
  const [whole = '', rest = '', ...more] = decimal ? digits.split(decimal) : [digits];
  if (more.length > 0) return null;
  const groups = whole.split(thousands);
  const grouped = groups.length === 1 || groups.slice(1).every((group) => group.length === 3);
  if (!grouped || /[.,]/.test(rest) || groups.some((group) => group === '' && groups.length > 1)) return null;
  const joined = groups.join('').replace(/^0+(?=\d)/, '') || '0';
  if (!/^\d+$/.test(joined) || joined.length > 9 || rest.length > 10) return null;
  const tail = rest.replace(/0+$/, '').padEnd(rest === '' ? 0 : Math.min(2, rest.length), '0');
  return `${found[1] === '-' ? '-' : ''}${joined}${tail === '' ? '' : `.${tail}`}`;
}

/** Which sign parts the decimals, from some prices of the list; a list parted by semicolons is of the comma where nothing tells. */
export function findDecimalSign(prices: readonly string[], delimiter: string): DecimalSign {
  let comma = 0;
  let point = 0;
  for (const price of prices) {
    const found = /([.,])(\d+)\D*$/.exec(price);
    if (!found || (found[2] as string).length === 3) continue;
    if (found[1] === ',') comma += 1;
    else point += 1;
  }
  if (comma === point) return delimiter === ';' ? ',' : '.';
  return comma > point ? ',' : '.';
}

const symbols: Readonly<Record<string, string>> = { '€': 'EUR', '£': 'GBP' };

/** Reads one record: what it says, or why it cannot be kept. */
export function readRow(record: ListRecord, places: Places, sign: DecimalSign, currency: string): RowRead {
  const no = (why: string): RowRead => ({ ok: false, why });
  if (record.problem) return no(record.problem);
  const at = (place: number | undefined): string =>
    place === undefined ? '' : (record.fields[place] ?? '').trim();
  const number = at(places.number);
  if (number === '') return no('the part number is missing');
  if (number.length > 60) return no('the part number is longer than 60 signs');
  if (record.text.includes('\ufffd')) return no('some letters cannot be read');
  const partId = partKey(number);
  if (partId === '') return no(`“${number}” is no part number`);
  const priceText = at(places.price);
  if (priceText === '') return no('the price is missing');
  const price = readDecimal(priceText, sign);
  if (price === null) return no(`the price “${priceText.slice(0, 40)}” is no number`);
  if (price.startsWith('-')) return no(`the price ${priceText} is below zero`);
  if (Number(price) === 0) return no('the price is 0, which is no price');
  if ((price.split('.')[1] ?? '').length > mostDigits)
    return no(`the price ${priceText} has more than ${mostDigits} decimals`);
  const named = at(places.currency).toUpperCase();
  const symbol = symbols[/[€£]/.exec(priceText)?.[0] ?? ''];
  const code = named || /\b([A-Z]{3})\b/.exec(priceText)?.[1] || symbol || currency;
  if (!/^[A-Z]{3}$/.test(code)) return no(`the currency “${named}” is no code of three letters`);
  const more = (text: string): string | null => (text === '' ? null : readDecimal(text, sign));
  const cost = more(at(places.cost));
  if (cost === null && at(places.cost) !== '') return no(`the cost “${at(places.cost)}” is no number`);
  const core = more(at(places.core));
  if (core === null && at(places.core) !== '') return no(`the deposit “${at(places.core)}” is no number`);
  const gtinText = at(places.gtin);
  const gtin = gtinText === '' ? null : readGtin(gtinText);
  if (gtin && !gtin.ok) return no(`the barcode ${gtinText}: ${gtin.why}`);
  return {
    ok: true,
    row: {
      partId,
      number,
      title: at(places.title).slice(0, 200),
      price,
      currency: code,
      cost,
      core: core !== null && Number(core) === 0 ? null : core,
      gtin: gtin?.ok ? gtin.gtin14 : null,
    },
  };
}
