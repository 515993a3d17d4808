import { type RawBuilder, sql } from 'kysely';
import { rowsWithWords } from './sqlite.ts';
import type { Db } from './tables.ts';

/** Finding numbers that stand in suppliers' lists, a million of them too, also of parts that the catalog lacks. */

export interface PricedPart {
  readonly part_id: string;
  readonly number: string;
  readonly title: string;
}

/**
 * So many rows are looked at, seen or not: while a list is being loaded, its hidden rows must not make a search slow. Rows of one
 * part stand together, so that a list loaded anew hides nothing of the old one.
 */
const mostLookedAt = 3000;

/** Of several rows of a part the newest says its title. */
async function visibleAmong(
  db: Db,
  rows: RawBuilder<unknown>,
  limit: number,
  perPart: number,
): Promise<PricedPart[]> {
  const { rows: found } = await sql<PricedPart & { generation: number }>`
    select r.part_id, r.number, r.title, r.generation
    from (${rows}) r cross join price_imports i
    where i.generation = r.generation and i.state = 'visible'
    limit ${limit * perPart}`.execute(db);
  const newest = new Map<string, (typeof found)[number]>();
  for (const row of found) {
    const known = newest.get(row.part_id);
    if (!known || known.generation < row.generation) newest.set(row.part_id, row);
  }
  return [...newest.values()]
    .slice(0, limit)
    .map(({ part_id, number, title }) => ({ part_id, number, title }));
}

const perPart = 4;

/** Rows whose number begins with one of the keys (the first key's rows come first), or that carry a barcode. */
export async function pricedByNumber(
  db: Db,
  by: { readonly keys: readonly string[] } | { readonly gtin14: string },
  limit: number,
): Promise<PricedPart[]> {
  if ('gtin14' in by)
    return visibleAmong(
      db,
      sql`select part_id, number, title, generation from price_rows where gtin = ${by.gtin14} limit ${mostLookedAt}`,
      limit,
      perPart,
    );
  const seen = new Map<string, PricedPart>();
  for (const key of by.keys) {
    const rows = sql`select part_id, number, title, generation from price_rows
      where part_id >= ${key} and part_id < ${`${key}\uffff`} order by part_id limit ${mostLookedAt}`;
    for (const row of await visibleAmong(db, rows, limit, perPart))
      if (!seen.has(row.part_id)) seen.set(row.part_id, row);
    if (seen.size >= limit) break;
  }
  return [...seen.values()].slice(0, limit);
}

/** A single letter begins too many words: until the next one is typed, the words before it are looked for. */
const shortestWord = 2;
const mostWords = 8;

/** Rows whose title has every typed word, in any order; the last one may be half typed. */
export async function pricedByWords(db: Db, text: string, limit: number): Promise<PricedPart[]> {
  const words = text
    .normalize('NFC')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean)
    .slice(0, mostWords);
  const last = words.at(-1);
  const isShort = last !== undefined && last.length < shortestWord;
  if (last === undefined || (isShort && words.length === 1)) return [];
  const ask = (wanted: readonly string[], ending: 'whole' | 'beginning'): Promise<PricedPart[]> => {
    const rows = rowsWithWords('price_words', wanted, ending, Math.min(mostLookedAt, limit * perPart * 4));
    return visibleAmong(
      db,
      sql`select part_id, number, title, generation from price_rows where seq in ${rows}`,
      limit,
      perPart,
    );
  };
  // A whole word is answered at once however many titles have it; all words with a beginning must be gathered first.
  const whole = await ask(words, 'whole');
  if (whole.length >= limit) return whole;
  const seen = new Set(whole.map((row) => row.part_id));
  const wider = await (isShort ? ask(words.slice(0, -1), 'whole') : ask(words, 'beginning'));
  return [...whole, ...wider.filter((row) => !seen.has(row.part_id))].slice(0, limit);
}
