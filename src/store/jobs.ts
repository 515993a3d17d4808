import { sql } from 'kysely';
import { fold, foldCode, likePattern } from './fold.ts';
import type {
  AdvisoryRow,
  ApprovalRow,
  ConcernPartRow,
  ConcernRow,
  Db,
  JobTableRow,
  ReadingRow,
  ShownRow,
  Tables,
} from './tables.ts';

/** One job card with everything that hangs on it. */
export interface JobCard {
  readonly job: JobTableRow;
  readonly concerns: readonly ConcernRow[];
  readonly causes: readonly Tables['concern_causes'][];
  readonly parts: readonly ConcernPartRow[];
  readonly readings: readonly ReadingRow[];
  readonly advisories: readonly AdvisoryRow[];
  readonly approvals: readonly ApprovalRow[];
}

export async function nextJobNumber(db: Db): Promise<number> {
  const row = await db
    .selectFrom('jobs')
    .select((eb) => eb.fn.max('number').as('top'))
    .executeTakeFirst();
  return Number(row?.top ?? 1000) + 1;
}

export async function loadJob(db: Db, by: { id: string } | { number: number }): Promise<JobCard | undefined> {
  const job = await db
    .selectFrom('jobs')
    .selectAll()
    .where((eb) => ('id' in by ? eb('id', '=', by.id) : eb('number', '=', by.number)))
    .executeTakeFirst();
  if (!job) return undefined;
  const concerns = await db
    .selectFrom('concerns')
    .selectAll()
    .where('job_id', '=', job.id)
    .orderBy('seq')
    .execute();
  const ids = concerns.map((concern) => concern.id);
  const none = ids.length === 0;
  return {
    job,
    concerns,
    causes: none
      ? []
      : await db
          .selectFrom('concern_causes')
          .selectAll()
          .where('concern_id', 'in', ids)
          .orderBy('seq')
          .execute(),
    parts: none
      ? []
      : await db
          .selectFrom('concern_parts')
          .selectAll()
          .where('concern_id', 'in', ids)
          .orderBy('seq')
          .execute(),
    readings: none
      ? []
      : await db.selectFrom('readings').selectAll().where('concern_id', 'in', ids).orderBy('seq').execute(),
    advisories: await db
      .selectFrom('advisories')
      .selectAll()
      .where('job_id', '=', job.id)
      .orderBy('made_ms')
      .orderBy('id')
      .execute(),
    approvals: await db
      .selectFrom('approvals')
      .selectAll()
      .where('job_id', '=', job.id)
      .orderBy('at_ms')
      .execute(),
  };
}

export async function insertJob(db: Db, row: JobTableRow): Promise<void> {
  await db.insertInto('jobs').values(row).execute();
}

/** Changes a job and counts its version up. @returns false when somebody else changed it meanwhile */
export async function updateJob(
  db: Db,
  id: string,
  ifVersion: number,
  set: Partial<Omit<JobTableRow, 'id' | 'version'>>,
): Promise<boolean> {
  const result = await db
    .updateTable('jobs')
    .set({ ...set, version: ifVersion + 1 })
    .where('id', '=', id)
    .where('version', '=', ifVersion)
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

export async function findConcern(db: Db, id: string): Promise<ConcernRow | undefined> {
  return db.selectFrom('concerns').selectAll().where('id', '=', id).executeTakeFirst();
}

export async function causesOf(db: Db, concernId: string): Promise<Tables['concern_causes'][]> {
  return db
    .selectFrom('concern_causes')
    .selectAll()
    .where('concern_id', '=', concernId)
    .orderBy('seq')
    .execute();
}

/** Closed concerns of a vehicle, newest first, with the mileage and the state of their job. */
export async function closedConcernsOf(db: Db, vehicleId: string) {
  return db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .selectAll('concerns')
    .select(['jobs.mileage_km as job_mileage_km', 'jobs.number as job_number'])
    .where('jobs.vehicle_id', '=', vehicleId)
    .where('concerns.state', '=', 'closed')
    .orderBy('concerns.closed_ms', 'desc')
    .limit(200)
    .execute();
}

/** Open or closed concerns that were marked as the return of this one. */
export async function comebacksOf(db: Db, concernId: string): Promise<ConcernRow[]> {
  return db.selectFrom('concerns').selectAll().where('comeback_of', '=', concernId).execute();
}

export async function insertConcern(db: Db, row: ConcernRow): Promise<void> {
  await db.insertInto('concerns').values(row).execute();
}

export async function updateConcern(db: Db, id: string, set: Partial<Omit<ConcernRow, 'id'>>): Promise<void> {
  await db
    .updateTable('concerns')
    .set({ ...set, version: sql`version + 1` })
    .where('id', '=', id)
    .execute();
}

export async function replaceCauses(
  db: Db,
  concernId: string,
  causes: readonly Omit<Tables['concern_causes'], 'concern_id' | 'seq'>[],
  parts: readonly Omit<ConcernPartRow, 'concern_id' | 'seq'>[],
): Promise<void> {
  await db.deleteFrom('concern_causes').where('concern_id', '=', concernId).execute();
  await db.deleteFrom('concern_parts').where('concern_id', '=', concernId).execute();
  if (causes.length > 0)
    await db
      .insertInto('concern_causes')
      .values(causes.map((cause, seq) => ({ ...cause, concern_id: concernId, seq })))
      .execute();
  if (parts.length > 0)
    await db
      .insertInto('concern_parts')
      .values(parts.map((part, seq) => ({ ...part, concern_id: concernId, seq })))
      .execute();
}

export async function insertReading(db: Db, row: Omit<ReadingRow, 'seq'>): Promise<void> {
  const top = await db
    .selectFrom('readings')
    .select((eb) => eb.fn.max('seq').as('top'))
    .where('concern_id', '=', row.concern_id)
    .executeTakeFirst();
  await db
    .insertInto('readings')
    .values({ ...row, seq: Number(top?.top ?? 0) + 1 })
    .execute();
}

export async function undoReading(db: Db, id: string, nowMs: number): Promise<void> {
  await db.updateTable('readings').set({ undone_ms: nowMs }).where('id', '=', id).execute();
}

/** Keeps what was shown: the ranking and the plan as people saw them. */
export async function keepShown(db: Db, row: Omit<ShownRow, 'seq'>): Promise<void> {
  const top = await db
    .selectFrom('shown')
    .select((eb) => eb.fn.max('seq').as('top'))
    .where('concern_id', '=', row.concern_id)
    .executeTakeFirst();
  await db
    .insertInto('shown')
    .values({ ...row, seq: Number(top?.top ?? 0) + 1 })
    .execute();
}

export async function shownOf(db: Db, concernId: string): Promise<ShownRow[]> {
  return db.selectFrom('shown').selectAll().where('concern_id', '=', concernId).orderBy('seq').execute();
}

export async function insertAdvisory(db: Db, row: AdvisoryRow): Promise<void> {
  await db.insertInto('advisories').values(row).execute();
}

export async function settleAdvisory(
  db: Db,
  id: string,
  jobId: string,
  state: AdvisoryRow['state'],
): Promise<boolean> {
  const result = await db
    .updateTable('advisories')
    .set({ state })
    .where('id', '=', id)
    .where((eb) =>
      eb.or([
        eb('job_id', '=', jobId),
        // An advisory of an earlier visit may be settled from a later card of the same vehicle.
        eb('vehicle_id', 'in', eb.selectFrom('jobs').select('vehicle_id').where('id', '=', jobId)),
      ]),
    )
    .executeTakeFirst();
  return result.numUpdatedRows === 1n;
}

/** Advisories of a vehicle that are not done, the declined ones too, with the number of the card they stand on. */
export async function openAdvisoriesOf(db: Db, vehicleId: string) {
  return db
    .selectFrom('advisories')
    .innerJoin('jobs', 'jobs.id', 'advisories.job_id')
    .selectAll('advisories')
    .select('jobs.number as job_number')
    .where('advisories.vehicle_id', '=', vehicleId)
    .where('advisories.state', 'in', ['open', 'declined'])
    .orderBy('advisories.made_ms', 'desc')
    .execute();
}

export async function insertApproval(db: Db, row: ApprovalRow): Promise<void> {
  await db.insertInto('approvals').values(row).execute();
}

export interface JobFilter {
  readonly statuses?: readonly string[] | undefined;
  readonly text?: string | undefined;
  readonly vehicleId?: string | undefined;
  readonly beforeNumber?: number | undefined;
  /** The text is looked for in so many of the newest jobs only, and as a number among all. */
  readonly textAmongNewest?: number | undefined;
  readonly limit: number;
}

/** Job rows for a board, newest first. */
export async function listJobs(db: Db, filter: JobFilter) {
  let query = db
    .selectFrom('jobs')
    .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
    .leftJoin('customers', 'customers.id', 'vehicles.customer_id')
    .selectAll('jobs')
    .select([
      'vehicles.plate',
      'vehicles.model_id',
      'vehicles.model_words',
      'customers.name as customer_name',
    ]);
  if (filter.statuses)
    query = query.where('jobs.status', 'in', filter.statuses.length > 0 ? filter.statuses : ['']);
  if (filter.vehicleId) query = query.where('jobs.vehicle_id', '=', filter.vehicleId);
  if (filter.beforeNumber) query = query.where('jobs.number', '<', filter.beforeNumber);
  if (filter.text?.trim()) {
    const text = filter.text.trim();
    const code = foldCode(text);
    const pattern = likePattern(fold(text));
    const newest = filter.textAmongNewest;
    if (newest !== undefined)
      query = query.where((eb) =>
        eb.or([
          sql<boolean>`jobs.number > (select coalesce(max(number), 0) from jobs) - ${newest}`,
          ...(/^\d{1,12}$/.test(text) ? [eb('jobs.number', '=', Number(text))] : []),
        ]),
      );
    query = query.where((eb) =>
      eb.or([
        sql<boolean>`jobs.folded like ${pattern} escape '\\'`,
        sql<boolean>`vehicles.folded like ${pattern} escape '\\'`,
        sql<boolean>`customers.folded like ${pattern} escape '\\'`,
        ...(code.length >= 2
          ? [sql<boolean>`vehicles.folded like ${likePattern(`#${code}`)} escape '\\'`]
          : []),
        ...(/^\d{1,12}$/.test(text) ? [eb('jobs.number', '=', Number(text))] : []),
      ]),
    );
  }
  return query.orderBy('jobs.number', 'desc').limit(filter.limit).execute();
}

export async function countByStatus(db: Db): Promise<Record<string, number>> {
  const rows = await db
    .selectFrom('jobs')
    .select(['status', (eb) => eb.fn.countAll<number>().as('n')])
    .groupBy('status')
    .execute();
  return Object.fromEntries(rows.map((row) => [row.status, Number(row.n)]));
}

export async function concernsOfJobs(db: Db, jobIds: readonly string[]): Promise<ConcernRow[]> {
  if (jobIds.length === 0) return [];
  return db.selectFrom('concerns').selectAll().where('job_id', 'in', jobIds).orderBy('seq').execute();
}

export async function advisoriesOfJobs(db: Db, jobIds: readonly string[]): Promise<AdvisoryRow[]> {
  if (jobIds.length === 0) return [];
  return db.selectFrom('advisories').selectAll().where('job_id', 'in', jobIds).execute();
}

/** Visits of a vehicle, newest first. */
export async function jobsOfVehicle(db: Db, vehicleId: string, limit: number): Promise<JobTableRow[]> {
  return db
    .selectFrom('jobs')
    .selectAll()
    .where('vehicle_id', '=', vehicleId)
    .orderBy('opened_ms', 'desc')
    .limit(limit)
    .execute();
}

/** The jobs to which some concerns belong. */
export async function jobsOfConcerns(
  db: Db,
  concernIds: readonly string[],
): Promise<{ concern_id: string; job_id: string; number: number; mileage_km: number | null }[]> {
  if (concernIds.length === 0) return [];
  return db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select(['concerns.id as concern_id', 'jobs.id as job_id', 'jobs.number', 'jobs.mileage_km'])
    .where('concerns.id', 'in', concernIds)
    .execute();
}

export async function jobOfConcern(db: Db, concernId: string): Promise<JobTableRow | undefined> {
  return db
    .selectFrom('jobs')
    .innerJoin('concerns', 'concerns.job_id', 'jobs.id')
    .selectAll('jobs')
    .where('concerns.id', '=', concernId)
    .executeTakeFirst();
}

export async function partsOf(db: Db, concernId: string): Promise<ConcernPartRow[]> {
  return db
    .selectFrom('concern_parts')
    .selectAll()
    .where('concern_id', '=', concernId)
    .orderBy('seq')
    .execute();
}
