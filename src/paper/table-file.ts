import { stringify } from 'csv-stringify/sync';
import type { Cell as SheetCell } from 'write-excel-file/universal';

export type FileCell = string | number | null;

export interface FileColumn {
  readonly title: string;
  readonly kind: 'text' | 'number';
}

/** Rows for a spreadsheet. Numbers stay numbers; what they count stands in the notes. */
export interface FileTable {
  readonly title: string;
  readonly notes: readonly string[];
  readonly columns: readonly FileColumn[];
  readonly rows: readonly (readonly FileCell[])[];
}

const finite = (cell: FileCell): FileCell =>
  typeof cell === 'number' && !Number.isFinite(cell) ? null : cell;

/**
 * The table as CSV (RFC 4180) with a mark for programs that would not know it is UTF-8. Text that a spreadsheet would take
 * for a formula gets an apostrophe in front (OWASP, CSV Injection); numbers are left as they are.
 */
export function tableCsv(table: FileTable): string {
  return stringify(
    [
      table.columns.map((column) => column.title),
      ...table.rows.map((row) => row.map((cell) => finite(cell) ?? '')),
    ],
    {
      bom: true,
      record_delimiter: '\r\n',
      escape_formulas: true,
      cast: {
        // A negative number is no formula: it is kept from the apostrophe.
        number: (value) => ({ value: String(value), escape_formulas: false }),
      },
    },
  );
}

const widest = 60;

/** A name that a sheet may have: 31 signs, none of those that stand for something in a reference. */
const sheetName = (title: string): string =>
  title
    .replace(/[[\]:*?/\\']/g, ' ')
    .slice(0, 31)
    .trim() || 'Sheet';

/**
 * The table as an XLSX workbook: the numbers, and a second sheet that says what they count. Every text is stored as a text,
 * so that nothing in it is ever taken for a formula.
 */
export async function tableXlsx(table: FileTable): Promise<Uint8Array> {
  const head = table.columns.map(
    (column): SheetCell => ({
      value: column.title,
      type: String,
      fontWeight: 'bold',
      wrap: true,
      align: column.kind === 'number' ? 'right' : 'left',
    }),
  );
  const cellOf = (cell: FileCell): SheetCell => {
    const value = finite(cell);
    if (value === null || value === '') return null;
    return typeof value === 'number' ? { value, type: Number } : { value, type: String };
  };
  const widths = table.columns.map((column, place) => ({
    width: Math.min(
      widest,
      Math.max(column.title.length, ...table.rows.map((row) => String(row[place] ?? '').length)) + 2,
    ),
  }));
  // Loaded only when somebody wants such a file.
  const { default: writeXlsxFile } = await import('write-excel-file/universal');
  const file = await writeXlsxFile([
    {
      data: [head, ...table.rows.map((row) => row.map(cellOf))],
      sheet: sheetName(table.title),
      columns: widths,
      stickyRowsCount: 1,
    },
    {
      data: [table.title, ...table.notes].map((note) => [{ value: note, type: String, wrap: true }]),
      sheet: 'What this counts',
      columns: [{ width: 100 }],
    },
  ]).toBlob();
  return new Uint8Array(await file.arrayBuffer());
}
