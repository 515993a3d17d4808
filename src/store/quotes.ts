import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Problem } from '../problem.ts';
import type { QuoteIssueRow, QuoteRow } from './parts-tables.ts';
import type { Db } from './tables.ts';

export async function nextQuoteNumber(db: Db): Promise<number> {
  const row = await db
    .selectFrom('quotes')
    .select((eb) => eb.fn.max('number').as('top'))
    .executeTakeFirst();
  return Number(row?.top ?? 100) + 1;
}

export const findQuote = (db: Db, id: string): Promise<QuoteRow | undefined> =>
  db.selectFrom('quotes').selectAll().where('id', '=', id).executeTakeFirst();

export async function insertQuote(db: Db, row: QuoteRow): Promise<void> {
  await db.insertInto('quotes').values(row).execute();
}

/** Changes a quote and counts its version up. @returns false when somebody else changed it meanwhile */
export async function updateQuote(
  db: Db,
  id: string,
  ifVersion: number,
  set: Partial<Omit<QuoteRow, 'id' | 'version' | 'number'>>,
): Promise<boolean> {
  const result = await db
    .updateTable('quotes')
    .set({ ...set, version: ifVersion + 1 })
    .where('id', '=', id)
    .where('version', '=', ifVersion)
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

export const issuesOf = (db: Db, quoteId: string): Promise<QuoteIssueRow[]> =>
  db.selectFrom('quote_issues').selectAll().where('quote_id', '=', quoteId).orderBy('seq').execute();

export async function insertIssue(db: Db, row: QuoteIssueRow): Promise<void> {
  await db.insertInto('quote_issues').values(row).execute();
}

export async function listQuotes(db: Db, jobId: string | undefined, limit: number): Promise<QuoteRow[]> {
  let query = db.selectFrom('quotes').selectAll();
  if (jobId !== undefined) query = query.where('job_id', '=', jobId);
  return query.orderBy('number', 'desc').limit(limit).execute();
}

/** The typefaces that paper is set in: letters of western languages, and those of the others in Latin script. */
export function readFonts(
  folder: string,
): Record<'regular' | 'bold', { latin: Uint8Array; more: Uint8Array }> {
  const read = (name: string): Uint8Array => {
    const file = join(folder, `${name}.woff`);
    try {
      return readFileSync(file);
    } catch (error) {
      throw new Problem(
        'bad-file',
        'A typeface for printing is missing from the program.',
        { file },
        { cause: error },
      );
    }
  };
  const pair = (weight: number) => ({
    latin: read(`atkinson-latin-${weight}`),
    more: read(`atkinson-latin-ext-${weight}`),
  });
  return { regular: pair(400), bold: pair(700) };
}

/** Where the shipped typefaces lie, beside the shipped handbook. */
export const fontFolder = (seedFolder: string): string => join(seedFolder, '..', 'fonts');
