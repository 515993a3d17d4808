type Cell = string | number;

/** A cell that a spreadsheet would take for a formula is marked as text. */
const asText = (text: string): string => (/^[=+\-@\t\r]/.test(text) ? `'${text}` : text);

function cellText(cell: Cell): string {
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  const text = asText(cell.replaceAll('\u2009', ' '));
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Rows as CSV (RFC 4180), with a mark for programs that would not know it is UTF-8. */
export const csvText = (rows: readonly (readonly Cell[])[]): string =>
  `\uFEFF${rows.map((row) => row.map(cellText).join(',')).join('\r\n')}\r\n`;

/** Hands the rows to the browser as a file. */
export function saveCsv(name: string, rows: readonly (readonly Cell[])[]): void {
  const url = URL.createObjectURL(new Blob([csvText(rows)], { type: 'text/csv;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = `${name}.csv`;
  link.click();
  // The browser reads the file after the click; a moment later nobody needs the address.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
