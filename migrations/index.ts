import { shop } from './0001-shop.ts';
import { parts } from './0002-parts.ts';
import { catalog } from './0003-catalog.ts';
import { months } from './0004-months.ts';
import { quoteAnswers } from './0005-quote-answers.ts';
import { priceWords } from './0006-price-words.ts';
import type { Migration } from './columns.ts';

export { countMonths } from './0004-months.ts';
export { type Columns, type Migration, sqliteColumns } from './columns.ts';

/** In the order in which they run. Append only; never change one that was released. */
export const migrations: readonly Migration[] = [shop, parts, catalog, months, quoteAnswers, priceWords];
