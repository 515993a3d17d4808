import { sql } from 'kysely';
import { fold, foldCode, likePattern } from './fold.ts';
import type { CustomerRow, Db, VehicleRow } from './tables.ts';

export async function findCustomer(db: Db, id: string): Promise<CustomerRow | undefined> {
  return db.selectFrom('customers').selectAll().where('id', '=', id).executeTakeFirst();
}

export async function insertCustomer(db: Db, row: CustomerRow): Promise<void> {
  await db.insertInto('customers').values(row).execute();
}

/** @returns false when somebody else changed it meanwhile */
export async function updateCustomer(db: Db, row: CustomerRow, ifVersion: number): Promise<boolean> {
  const result = await db
    .updateTable('customers')
    .set(row)
    .where('id', '=', row.id)
    .where('version', '=', ifVersion)
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

/** Every word must be found, or the whole text as one code (plate, phone, frame). */
function matches(column: string, text: string) {
  const code = foldCode(text);
  const words = fold(text).split(/\s+/).filter(Boolean).slice(0, 6);
  const all = sql.join(
    words.map((word) => sql`${sql.ref(column)} like ${likePattern(word)} escape '\\'`),
    sql` and `,
  );
  return code.length >= 2
    ? sql<boolean>`((${all}) or ${sql.ref(column)} like ${likePattern(`#${code}`)} escape '\\')`
    : sql<boolean>`(${all})`;
}

export async function searchCustomers(db: Db, text: string, limit: number): Promise<CustomerRow[]> {
  return db
    .selectFrom('customers')
    .selectAll()
    .where(matches('customers.folded', text))
    .orderBy('made_ms', 'desc')
    .limit(limit)
    .execute();
}

export async function findVehicle(db: Db, id: string): Promise<VehicleRow | undefined> {
  return db.selectFrom('vehicles').selectAll().where('id', '=', id).executeTakeFirst();
}

export async function vehiclesOf(db: Db, customerId: string): Promise<VehicleRow[]> {
  return db
    .selectFrom('vehicles')
    .selectAll()
    .where('customer_id', '=', customerId)
    .orderBy('made_ms', 'desc')
    .execute();
}

export async function insertVehicle(db: Db, row: VehicleRow): Promise<void> {
  await db.insertInto('vehicles').values(row).execute();
}

/** @returns false when somebody else changed it meanwhile */
export async function updateVehicle(db: Db, row: VehicleRow, ifVersion: number): Promise<boolean> {
  const result = await db
    .updateTable('vehicles')
    .set(row)
    .where('id', '=', row.id)
    .where('version', '=', ifVersion)
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

/** By plate, frame, model words, or the customer's name or phone. Those with the plate itself come first. */
export async function searchVehicles(db: Db, text: string, limit: number): Promise<VehicleRow[]> {
  const code = foldCode(text);
  return db
    .selectFrom('vehicles')
    .leftJoin('customers', 'customers.id', 'vehicles.customer_id')
    .selectAll('vehicles')
    .where((eb) => eb.or([matches('vehicles.folded', text), matches('customers.folded', text)]))
    .orderBy(sql`case when vehicles.folded like ${likePattern(`#${code}`)} escape '\\' then 0 else 1 end`)
    .orderBy('vehicles.made_ms', 'desc')
    .limit(limit)
    .execute();
}
