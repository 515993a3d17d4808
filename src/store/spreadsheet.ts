import { Problem } from '../problem.ts';

/** First sheet of an XLSX file as rows of text. @throws Problem bad-file */
export async function readSpreadsheet(path: string): Promise<string[][]> {
  // Loaded only when asked for: it unpacks and parses a format of its own.
  const { readSheet } = await import('read-excel-file/node');
  try {
    const rows = await readSheet(path);
    return rows.map((row) => row.map((cell) => (cell === null ? '' : String(cell))));
  } catch (error) {
    throw new Problem(
      'bad-file',
      `The file ${path} is no spreadsheet that can be read.`,
      { field: 'path', file: path },
      { cause: error },
    );
  }
}
