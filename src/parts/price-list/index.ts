export {
  findColumns,
  guessColumns,
  type ListColumn,
  listColumns,
  type Mapping,
  mostLinesBefore,
  noColumns,
  type Places,
} from './columns.ts';
export { TextReader } from './decode-text.ts';
export { findDelimiter, type ListForm, type ListRecord, readRecords } from './read-records.ts';
export {
  type DecimalSign,
  findDecimalSign,
  type ListRow,
  type RowRead,
  readDecimal,
  readRow,
} from './read-row.ts';
export { rejectsText } from './rejects.ts';
export { isClosed, type RawRecord, RecordSplitter } from './split-records.ts';
