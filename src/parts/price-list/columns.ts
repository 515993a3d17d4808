import { Problem, quoted } from '../../problem.ts';
import { readDecimal } from './read-decimal.ts';

/** What a price list can say about a part. Number and price must be there. */
export const listColumns = ['number', 'price', 'title', 'currency', 'cost', 'core', 'gtin'] as const;
export type ListColumn = (typeof listColumns)[number];
/**
 * Column of the program → heading in the file; where two headings are equal or one is missing, `#` and the number or letter of
 * the column, with or without its heading: `Price #3`, `#C`.
 */
export type Mapping = { readonly [C in ListColumn]?: string | undefined };
export type Places = { readonly [C in ListColumn]?: number };

/** Headings that suppliers use, folded. */
const usual: Readonly<Record<ListColumn, readonly string[]>> = {
  number: [
    'number',
    'partnumber',
    'partno',
    'part',
    'itemnumber',
    'itemno',
    'articlenumber',
    'articleno',
    'sku',
    'artikelnummer',
    'artikelnr',
    'artnr',
    'teilenummer',
    'reference',
    'ref',
    'codice',
    'codigo',
  ],
  price: [
    'price',
    'listprice',
    'retailprice',
    'rrp',
    'msrp',
    'unitprice',
    'preis',
    'vkpreis',
    'listenpreis',
    'uvp',
    'prix',
    'prezzo',
    'precio',
    'pvp',
  ],
  title: [
    'title',
    'description',
    'name',
    'text',
    'bezeichnung',
    'beschreibung',
    'designation',
    'descrizione',
    'descripcion',
  ],
  currency: ['currency', 'curr', 'wahrung', 'waehrung', 'devise', 'valuta', 'moneda'],
  cost: ['cost', 'netprice', 'dealerprice', 'purchaseprice', 'ekpreis', 'ek', 'einkaufspreis'],
  core: ['core', 'coredeposit', 'corecharge', 'deposit', 'pfand', 'consigne'],
  gtin: ['gtin', 'ean', 'eancode', 'ean13', 'barcode', 'upc'],
};

const fold = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]/gu, '')
    .toLowerCase();

/** The column that a name says by number or letter, from 0. */
function placeIn(name: string): { readonly heading: string; readonly place: number } | null {
  const found = /^(.*?)\s*#\s*(\d{1,4}|[A-Za-z]{1,2})$/s.exec(name);
  if (!found) return null;
  const [, heading = '', column = ''] = found;
  if (/^\d/.test(column)) return Number(column) > 0 ? { heading, place: Number(column) - 1 } : null;
  // Spreadsheets count columns A to Z, then AA.
  const number = [...column.toUpperCase()].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
  return { heading, place: number - 1 };
}

/** Where a named column stands in a line of headings; -1 where it does not. */
function placeOf(name: string, headings: readonly string[], folded: readonly string[]): number {
  const same = headings.indexOf(name);
  if (same >= 0) return same;
  const at = placeIn(name);
  const there = at ? folded[at.place] : undefined;
  if (at && there !== undefined && (at.heading === '' || fold(at.heading) === there)) return at.place;
  return fold(name) === '' ? -1 : folded.indexOf(fold(name));
}

/** What a mapping calls a column: its heading, with its number where that alone does not tell it. */
export function columnName(headings: readonly string[], place: number): string {
  const heading = headings[place] ?? '';
  const folded = fold(heading);
  const isAlone = folded !== '' && headings.filter((one) => fold(one) === folded).length === 1;
  const number = ` #${place + 1}`;
  // A name has a longest length, and may stand over several lines of a cell.
  return isAlone && heading.length <= longestName
    ? heading
    : `${folded === '' || heading.length > longestName - number.length ? '' : heading}${number}`.trim();
}
const longestName = 120;

/** Finds the columns in a line of headings; null where number or price is missing. */
export function findColumns(headings: readonly string[], mapping: Mapping | null): Places | null {
  const folded = headings.map(fold);
  const places: { [C in ListColumn]?: number } = {};
  for (const column of listColumns) {
    const named = mapping?.[column];
    const found =
      named !== undefined ? [placeOf(named, headings, folded)] : mapping ? [] : usualPlaces(column, folded);
    const place = found.find((one) => one >= 0);
    if (place !== undefined && !Object.values(places).includes(place)) places[column] = place;
    else if (named !== undefined) return null;
  }
  if (places.number === undefined || places.price === undefined) return null;
  // Columns by number alone fit every line: one that has no two headings, or a price already, is not the line of headings.
  const isByNumber = [mapping?.number, mapping?.price].every((named) => named?.startsWith('#'));
  const isHeadings =
    headings.filter((heading) => heading !== '').length > 1 &&
    readDecimal(headings[places.price] ?? '', '.') === null;
  return isByNumber && !isHeadings ? null : places;
}

const usualPlaces = (column: ListColumn, folded: readonly string[]): number[] =>
  usual[column].map((name) => folded.indexOf(name));

/**
 * What the usual headings say about a line, also where number or price lack: a person maps the rest.
 * @returns how many columns were found, and their names
 */
export function guessColumns(headings: readonly string[]): {
  readonly found: number;
  readonly mapping: Mapping;
} {
  const folded = headings.map(fold);
  const places: { [C in ListColumn]?: number } = {};
  for (const column of listColumns) {
    const place = usualPlaces(column, folded).find((one) => one >= 0);
    if (place !== undefined && !Object.values(places).includes(place)) places[column] = place;
  }
  return { found: Object.keys(places).length, mapping: mappingFor(headings, places) };
}

/** The names of columns, to be remembered. */
export const mappingFor = (headings: readonly string[], places: Places): Mapping =>
  Object.fromEntries(Object.entries(places).map(([column, place]) => [column, columnName(headings, place)]));

/** How far down the line of headings may stand: some lists begin with an address. */
export const mostLinesBefore = 20;

/** Why a list cannot be read at all, in words that name what is there. */
export function noColumns(lines: readonly (readonly string[])[], mapping: Mapping | null): Problem {
  const widest = [...lines].sort((a, b) => b.length - a.length)[0] ?? [];
  const seen =
    widest
      .filter((heading) => heading !== '')
      .map(quoted)
      .join(', ') || 'nothing';
  const missing = mapping
    ? listColumns
        .filter(
          (column) =>
            mapping[column] !== undefined && placeOf(mapping[column] as string, widest, widest.map(fold)) < 0,
        )
        .map((column) => `${column} (${quoted(mapping[column])})`)
        .join(', ')
    : 'number and price';
  return new Problem(
    'bad-file',
    `The list has no line of headings with ${missing}. It has: ${seen}. Say with mapping which heading is which.`,
    { field: 'mapping', row: 1 },
  );
}
