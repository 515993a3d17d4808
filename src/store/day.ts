import { sql } from 'kysely';
import type { Db } from './tables.ts';

/** The newest ranking of every open concern. */
export async function rankingsOfOpen(db: Db) {
  return db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .innerJoin('shown', 'shown.concern_id', 'concerns.id')
    .select(['concerns.id as concernId', 'jobs.number as jobNumber', 'jobs.status', 'shown.ranking'])
    .where('concerns.state', '=', 'open')
    .where('shown.seq', '=', (eb) =>
      eb
        .selectFrom('shown as newest')
        .select((e) => e.fn.max('newest.seq').as('seq'))
        .whereRef('newest.concern_id', '=', 'concerns.id'),
    )
    .orderBy('jobs.number')
    .execute();
}

/** Open advisories, those that endanger and those due now first. */
export async function openAdvisories(db: Db, limit: number) {
  const due = sql<number>`case advisories.urgency when 'now' then 0 when 'soon' then 1 else 2 end`;
  const counted = await db
    .selectFrom('advisories')
    .select((eb) => ['urgency', eb.fn.countAll().as('all')])
    .where('state', '=', 'open')
    .groupBy('urgency')
    .execute();
  const rows = await db
    .selectFrom('advisories')
    .innerJoin('jobs', 'jobs.id', 'advisories.job_id')
    .leftJoin('vehicles', 'vehicles.id', 'advisories.vehicle_id')
    .leftJoin('customers', 'customers.id', 'vehicles.customer_id')
    .select([
      'advisories.id',
      'advisories.words',
      'advisories.urgency',
      'advisories.do_not_ride as doNotRide',
      'advisories.made_ms as madeMs',
      'advisories.made_offset as madeOffset',
      'jobs.number as jobNumber',
      'vehicles.plate',
      'vehicles.model_id as modelId',
      'vehicles.model_words as modelWords',
      'customers.name as customer',
      'customers.phone',
    ])
    .where('advisories.state', '=', 'open')
    .orderBy('advisories.do_not_ride', 'desc')
    .orderBy(due)
    .orderBy('advisories.made_ms')
    .limit(limit)
    .execute();
  return {
    counts: Object.fromEntries(counted.map((row) => [row.urgency, Number(row.all)])),
    rows,
  };
}

/** Orders for jobs that are still open, with how much has arrived; the next expected first. */
export async function ordersOfOpenJobs(db: Db, limit: number) {
  return db
    .selectFrom('part_orders')
    .innerJoin('jobs', 'jobs.id', 'part_orders.job_id')
    .innerJoin('parts', 'parts.id', 'part_orders.part_id')
    .leftJoin('suppliers', 'suppliers.id', 'part_orders.supplier_id')
    .select([
      'part_orders.id',
      'part_orders.quantity',
      'part_orders.arrived',
      'part_orders.expected_ms as expectedMs',
      'part_orders.expected_offset as expectedOffset',
      'parts.number as partNumber',
      'parts.title',
      'suppliers.name as supplier',
      'jobs.number as jobNumber',
      'jobs.status',
    ])
    .where('jobs.status', '<>', 'collected')
    .orderBy('part_orders.expected_ms')
    .orderBy('part_orders.made_ms')
    .limit(limit)
    .execute();
}
