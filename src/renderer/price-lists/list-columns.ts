import type { ListMapping, ListPreview } from '../../api/contract.ts';

/** What a column of a list can stand for. Number and price must be there. */
export const columnWords = {
  number: 'Part number',
  price: 'Price',
  title: 'Description',
  currency: 'Currency',
  cost: 'What it costs us',
  core: 'Deposit for the old part',
  gtin: 'Barcode',
} as const;
export type ListColumn = keyof typeof columnWords;
export const listColumns = Object.keys(columnWords) as readonly ListColumn[];

/** Column of the list, counted from 0, by what it stands for. */
export type Places = Readonly<Partial<Record<ListColumn, number>>>;

export function placesOf({ names, mapping }: ListPreview): Places {
  const places: Partial<Record<ListColumn, number>> = {};
  for (const column of listColumns) {
    const place = mapping[column] === undefined ? -1 : names.indexOf(mapping[column]);
    if (place >= 0) places[column] = place;
  }
  return places;
}

/** A column stands for one thing, and one thing stands in one column. */
export function placed(places: Places, at: number, column: ListColumn | null): Places {
  const kept = Object.entries(places).filter(([name, place]) => place !== at && name !== column);
  return Object.fromEntries(column ? [...kept, [column, at]] : kept) as Places;
}

export const mappingOf = (places: Places, names: readonly string[]): ListMapping =>
  Object.fromEntries(
    Object.entries(places).map(([column, at]) => [column, names[at as number] ?? '']),
  ) as ListMapping;

/** What still has to be said before the list can be read; null where all is there. */
export function lacking(places: Places): string | null {
  if (places.number === undefined) return 'Say which column is the part number.';
  if (places.price === undefined) return 'Say which column is the price.';
  return null;
}

const delimiters: Readonly<Record<string, string>> = {
  ';': 'semicolons',
  ',': 'commas',
  '\t': 'tabs',
  '|': 'bars',
};

/** "Windows-1252, parted by semicolons". */
export function formWords({ fileName, encoding, delimiter }: ListPreview): string {
  if (/\.xlsx$/i.test(fileName)) return 'a spreadsheet, first sheet';
  const name = encoding === 'utf-8' ? 'UTF-8' : encoding.replace(/^windows/, 'Windows');
  return `${name}, fields parted by ${delimiters[delimiter] ?? delimiter}`;
}
