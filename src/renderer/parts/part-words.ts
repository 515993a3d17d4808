import type { EditableFitment, FitView, PartPrice, PartStock } from '../../api/contract.ts';
import { plain, sentence } from '../words/labels.ts';
import { moneyWords } from '../words/money.ts';

export const certaintyWords: Record<FitView['certainty'], string> = {
  fits: 'Fits by the list',
  replaces: 'Replaces the old number',
  interchange: 'Interchangeable',
  'equal-by-attributes': 'Equal by its data',
};

const units: Record<string, string> = {
  a: 'A',
  v: 'V',
  w: 'W',
  ohm: 'Ω',
  ah: 'Ah',
  mm: 'mm',
  ma: 'mA',
  l: 'L',
  g: 'g',
  teeth: 'teeth',
  inch: 'in',
};

/** "rating_a" → "Rating, A". */
export function attributeName(name: string): string {
  const at = name.lastIndexOf('_');
  const unit = at > 0 ? units[name.slice(at + 1)] : undefined;
  return unit ? `${sentence(plain(name.slice(0, at)))}, ${unit}` : sentence(plain(name));
}

export function stockWords(stock: PartStock | null): string {
  if (!stock) return 'not kept';
  const order = stock.onOrder > 0 ? `, ${stock.onOrder} on order` : '';
  return stock.free === stock.onHand
    ? `${stock.onHand} on the shelf${order}`
    : `${stock.free} free of ${stock.onHand}${order}`;
}

export const binWords = (stock: PartStock | null): string => stock?.bin ?? '—';

export function priceWords(price: PartPrice | null | undefined): string {
  if (!price) return 'no price';
  return price.core
    ? `${moneyWords(price.price)} + ${moneyWords(price.core)} for the old part`
    : moneyWords(price.price);
}

const spanWords = (from: number | string | null, to: number | string | null, open: string): string =>
  from === null && to === null ? '' : `${from ?? '…'} to ${to ?? open}`;

/** "Pellan Vico 50, 2009 to 2012, frames AB100 to AB200, front. Note." */
export function fitmentWords(one: Omit<EditableFitment, 'fitmentId' | 'basis'>): string {
  const frames = spanWords(one.frames.from, one.frames.to, '…');
  const said = [
    one.machine,
    spanWords(one.years.from, one.years.to, 'now') || 'all years',
    frames === '' ? '' : `frames ${frames}`,
    one.position ?? '',
  ].filter((word) => word !== '');
  return `${said.join(', ')}${one.note ? `. ${one.note}` : ''}`;
}

/** A barcode without the zeros that fill it to 14 digits, as long as a printed one. */
export function printedGtin(gtin: string): string {
  const length = [8, 12, 13].find((digits) => gtin.startsWith('0'.repeat(14 - digits))) ?? 14;
  return gtin.slice(14 - length);
}
