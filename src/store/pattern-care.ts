import { sql } from 'kysely';
import type { Stretch } from './month-reach.ts';
import { closedIn, type FactFilter, keyOf, type VisitDimension } from './patterns.ts';
import type { Db } from './tables.ts';

/**
 * Vehicles in care: those with at least one concern closed in the stretch, proven or not, however often they came. By what is
 * known of the vehicle or its visits, or (`null`) all together. A job without a vehicle on file counts for none.
 */
export async function countVehicles(
  db: Db,
  stretch: Stretch,
  by: VisitDimension | null,
  { modelId, familyId }: Pick<FactFilter, 'modelId' | 'familyId'> = {},
): Promise<{ key: string | number | null; vehicles: number }[]> {
  const rows = await closedIn(db, stretch, { modelId, familyId })
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
    .select([
      (by === null ? sql<null>`null` : keyOf[by]).as('key'),
      sql<number>`count(distinct jobs.vehicle_id)`.as('vehicles'),
    ])
    .groupBy(sql`1`)
    .execute();
  return rows.map((row) => ({ key: row.key, vehicles: Number(row.vehicles) }));
}
