import { Problem, quoted } from '../../problem.ts';

/** What a price list can say about a part. Number and price must be there. */
export const listColumns = ['number', 'price', 'title', 'currency', 'cost', 'core', 'gtin'] as const;
export type ListColumn = (typeof listColumns)[number];
/** Column of the program → heading in the file. */
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

/** Finds the columns in a line of headings; null where number or price is missing. */
export function findColumns(headings: readonly string[], mapping: Mapping | null): Places | null {
  const folded = headings.map(fold);
  const places: { [C in ListColumn]?: number } = {};
  for (const column of listColumns) {
    const named = mapping?.[column];
    const wanted = named !== undefined ? [fold(named)] : mapping ? [] : usual[column];
    const place = wanted.map((name) => folded.indexOf(name)).find((found) => found >= 0);
    if (place !== undefined && !Object.values(places).includes(place)) places[column] = place;
    else if (named !== undefined) return null;
  }
  return places.number === undefined || places.price === undefined ? null : places;
}

/**
 * What the usual headings say about a line, also where number or price lack: a person maps the rest.
 * @returns how many columns were found, and their headings
 */
export function guessColumns(headings: readonly string[]): {
  readonly found: number;
  readonly mapping: Mapping;
} {
  const folded = headings.map(fold);
  const mapping: { [C in ListColumn]?: string } = {};
  for (const column of listColumns) {
    const place = usual[column].map((name) => folded.indexOf(name)).find((one) => one >= 0);
    const heading = place === undefined ? undefined : headings[place];
    if (heading !== undefined && !Object.values(mapping).includes(heading)) mapping[column] = heading;
  }
  return { found: Object.keys(mapping).length, mapping };
}

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
            mapping[column] !== undefined && !widest.map(fold).includes(fold(mapping[column] as string)),
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
