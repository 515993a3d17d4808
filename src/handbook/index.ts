export { buildBook } from './build-book.ts';
export { closestName } from './closest-name.ts';
export { type Body, type Entry, type EntryKind, entryKinds } from './entry.ts';
export { type Finding, findingLine, inReadingOrder, type Severity } from './finding.ts';
export type { HandbookFile } from './parse-yaml.ts';
export { readHandbook } from './read-handbook.ts';
