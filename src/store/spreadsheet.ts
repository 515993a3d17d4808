import { readFileSync } from 'node:fs';
import { Problem } from '../problem.ts';

/** A packed sheet is unpacked and read whole, in memory; a longer list comes as CSV, which is read piece by piece. */
const largest = 40 * 1024 * 1024;

/**
 * A cell as text. A number loses what the arithmetic of spreadsheets leaves behind the fifteenth digit (12.950000000000001):
 * that many they promise to keep. Three decimals get a fourth, so that no reader takes 1.234 for a thousand and some.
 */
function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell === 'number') return String(Number(cell.toPrecision(15))).replace(/\.\d{3}$/, '$&0');
  if (cell instanceof Date) return cell.toISOString().slice(0, 10);
  return String(cell);
}

/** First sheet of an XLSX file as rows of text. @throws Problem bad-file, too-large */
export async function readSpreadsheet(path: string, name = path): Promise<string[][]> {
  // Loaded only when asked for: it unpacks and parses a format of its own.
  const { readSheet } = await import('read-excel-file/node');
  try {
    const bytes = readFileSync(path);
    if (bytes.length > largest)
      throw new Problem(
        'too-large',
        `A spreadsheet may have ${largest / 1024 / 1024} MiB; save ${name} as CSV.`,
        { field: 'path', file: name },
      );
    const rows = await readSheet(bytes);
    return rows.map((row) => row.map(cellText));
  } catch (error) {
    if (error instanceof Problem) throw error;
    throw new Problem(
      'bad-file',
      `The file ${name} is no spreadsheet that can be read.`,
      { field: 'path', file: name },
      { cause: error },
    );
  }
}
