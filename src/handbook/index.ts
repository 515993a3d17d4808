export { buildBook } from './build-book.ts';
export { closestName } from './closest-name.ts';
export { type Coverage, coverage, type SystemCounts } from './coverage.ts';
export { type Body, type Entry, type EntryKind, entryKinds } from './entry.ts';
export { type Finding, findingLine, inReadingOrder, type Severity } from './finding.ts';
export { type LintSources, lintBook } from './lint-book.ts';
export type { HandbookFile } from './parse-yaml.ts';
export { readHandbook } from './read-handbook.ts';
export type { WiringChances } from './tell-apart.ts';
