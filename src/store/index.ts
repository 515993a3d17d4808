export * from './backup.ts';
export * from './book.ts';
export * from './catalog.ts';
export { defaultDataFolder } from './data-folder.ts';
export * from './day.ts';
export { fold, foldAll, foldCode } from './fold.ts';
export * from './jobs.ts';
export { keptNumbers } from './kept-numbers.ts';
export { type Door, type LockNote, ownerOf, whoIsThere } from './lock.ts';
export { digestOf, wasMade } from './made.ts';
export { migrate, schemaVersion } from './migrate.ts';
export { ledgerSpan, monthStartUtc, reachOf, type Stretch } from './month-reach.ts';
export * from './months.ts';
export { databaseFile, openReader, openStore, type Store } from './open.ts';
export * from './parts.ts';
export type * from './parts-tables.ts';
export * from './pattern-care.ts';
export * from './pattern-jobs.ts';
export * from './pattern-quoted.ts';
export * from './pattern-repairs.ts';
export * from './pattern-rises.ts';
export * from './pattern-rows.ts';
export * from './patterns.ts';
export * from './people.ts';
export * from './price-lists.ts';
export * from './priced-parts.ts';
export * from './quotes.ts';
export { readYamlFolder } from './seed-files.ts';
export { SortedLines, sweepSorting } from './sorted-lines.ts';
export { readSpreadsheet } from './spreadsheet.ts';
export {
  asProblem,
  type Connection,
  changedElsewhere,
  findDamage,
  inBulkTransaction,
  insertMany,
} from './sqlite.ts';
export * from './stock.ts';
export type * from './tables.ts';
export * from './tally.ts';
export * from './uploads.ts';
