export {
  columnName,
  findColumns,
  guessColumns,
  type ListColumn,
  listColumns,
  type Mapping,
  mappingFor,
  mostLinesBefore,
  noColumns,
  type Places,
} from './columns.ts';
export { looksPacked, type TextEncoding, TextReader } from './decode-text.ts';
export { type DecimalSign, findDecimalSign, readDecimal } from './read-decimal.ts';
export { findDelimiter, type ListForm, type ListRecord, readRecords } from './read-records.ts';
export { type ListRow, type RowRead, readRow } from './read-row.ts';
export { rejectsText } from './rejects.ts';
export { SortedRow, toLine, toMark } from './row-line.ts';
export { type QuoteState, type SplitRecord, splitFields } from './split-fields.ts';
export { longestRecord, type RawRecord, RecordSplitter } from './split-records.ts';
