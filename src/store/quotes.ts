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

/** Keeps what the customer said with the newest issue; the issue itself never changes. */
export async function answerIssue(db: Db, quoteId: string, seq: number, answer: string): Promise<void> {
  await db
    .updateTable('quote_issues')
    .set({ answer })
    .where('quote_id', '=', quoteId)
    .where('seq', '=', seq)
    .execute();
}

/** Newest first: of one job, those without a job, or all. */
export async function listQuotes(
  db: Db,
  which: { jobId?: string | undefined; free?: boolean | undefined },
  limit: number,
): Promise<QuoteRow[]> {
  let query = db.selectFrom('quotes').selectAll();
  if (which.jobId !== undefined) query = query.where('job_id', '=', which.jobId);
  else if (which.free) query = query.where('job_id', 'is', null);
  return query.orderBy('number', 'desc').limit(limit).execute();
}

/** Number, vehicle, plate and owner of jobs. */
export async function namesOfJobs(
  db: Db,
  ids: readonly string[],
): Promise<
  Map<string, { number: number; vehicle_id: string | null; plate: string | null; customer: string | null }>
> {
  if (ids.length === 0) return new Map();
  const rows = await db
    .selectFrom('jobs')
    .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
    .leftJoin('customers', 'customers.id', 'vehicles.customer_id')
    .select(['jobs.id', 'jobs.number', 'jobs.vehicle_id', 'vehicles.plate', 'customers.name as customer'])
    .where('jobs.id', 'in', [...new Set(ids)])
    .execute();
  return new Map(rows.map(({ id, ...row }) => [id, row]));
}

/** Plate and owner of vehicles. */
export async function namesOfVehicles(
  db: Db,
  ids: readonly string[],
): Promise<Map<string, { plate: string | null; customer: string | null }>> {
  if (ids.length === 0) return new Map();
  const rows = await db
    .selectFrom('vehicles')
    .leftJoin('customers', 'customers.id', 'vehicles.customer_id')
    .select(['vehicles.id', 'vehicles.plate', 'customers.name as customer'])
    .where('vehicles.id', 'in', [...new Set(ids)])
    .execute();
  return new Map(rows.map(({ id, ...row }) => [id, row]));
}

/** Font files in the order in which they are tried for a sign. */
const faces = [
  'atkinson-latin',
  'atkinson-latin-ext',
  'noto-cyrillic',
  'noto-greek',
  'noto-vietnamese',
  'noto-cyrillic-ext',
  'noto-greek-ext',
];

/** The typefaces that paper is set in: Latin script, and Cyrillic, Greek and Vietnamese letters for names. */
export function readFonts(folder: string): Record<'regular' | 'bold', Uint8Array[]> {
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
  return {
    regular: faces.map((face) => read(`${face}-400`)),
    bold: faces.map((face) => read(`${face}-700`)),
  };
}

/** Where the shipped typefaces lie, beside the shipped handbook. */
export const fontFolder = (seedFolder: string): string => join(seedFolder, '..', 'fonts');
