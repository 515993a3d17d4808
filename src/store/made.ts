import { createHash } from 'node:crypto';
import { sql } from 'kysely';
import { Problem } from '../problem.ts';
import type { Db } from './tables.ts';

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, inner]) => [key, sorted(inner)]),
  );
}

/** Digest of what a caller sent, the same for the same content in any order of fields. */
export function digestOf(content: unknown): string {
  return createHash('sha256')
    .update(JSON.stringify(sorted(content)))
    .digest('base64url');
}

/** Where things stand that were made without an id of the caller's, and so are not in the list of what was made. */
const tableOf = {
  customer: 'customers',
  vehicle: 'vehicles',
  job: 'jobs',
  concern: 'concerns',
  reading: 'readings',
  skip: 'readings',
  approval: 'approvals',
  advisory: 'advisories',
  quote: 'quotes',
  'part order': 'part_orders',
} as const;
const isInTable = (what: string): what is keyof typeof tableOf => Object.hasOwn(tableOf, what);

async function isTaken(db: Db, id: string, what: string): Promise<boolean> {
  const table = isInTable(what) ? tableOf[what] : what.startsWith('stock ') ? 'stock_moves' : null;
  if (table === null) return false;
  const found = await sql<{ id: string }>`select id from ${sql.table(table)} where id = ${id}`.execute(db);
  return found.rows.length > 0;
}

/**
 * A caller may make the id of what it creates and send it again when the answer was lost.
 * @returns true when this very content was made under this id before
 * @throws Problem conflict when the id stands for something else
 */
export async function wasMade(db: Db, id: string, what: string, content: unknown): Promise<boolean> {
  const digest = digestOf(content);
  const row = await db.selectFrom('made').selectAll().where('id', '=', id).executeTakeFirst();
  if (!row) {
    if (await isTaken(db, id, what))
      throw new Problem(
        'conflict',
        `There is already a ${what} with the id ${id}; to change what is there, say by its version which one you have seen.`,
        { id },
      );
    await db.insertInto('made').values({ id, what, digest }).execute();
    return false;
  }
  if (row.what === what && row.digest === digest) return true;
  throw new Problem('conflict', `The id ${id} already stands for something else (${row.what}).`, { id });
}
