import { sql } from 'kysely';
import { monthOf } from './month-of.ts';
import type { Stretch } from './month-reach.ts';
import { mileageBand_km } from './patterns.ts';
import type { Db } from './tables.ts';

/** From (inclusive) and to (inclusive, null for open). */
export interface Span {
  readonly from: number;
  readonly to: number | null;
}

/** Which proven repairs are wanted. What is left out does not matter; `null` asks for "not known". */
export interface RepairFilter {
  readonly modelId?: string | null | undefined;
  readonly familyId?: string | null | undefined;
  /** Engines of these families; with `isOther` all but these, and those not known. */
  readonly families?: { readonly of: readonly string[]; readonly isOther: boolean } | undefined;
  readonly symptomId?: string | null | undefined;
  /** Any of these; null: a cause that the book lacks. */
  readonly causeIds?: readonly string[] | null | undefined;
  readonly partKind?: string | null | undefined;
  readonly supplier?: string | null | undefined;
  readonly modelYear?: number | null | undefined;
  readonly technician?: string | null | undefined;
  /** Whole years at the closing. */
  readonly age?: Span | null | undefined;
  /** Bands of `mileageBand_km`. */
  readonly mileageBands?: Span | null | undefined;
  /** Came back with this decision. */
  readonly back?: 'diagnosis-stands' | 'diagnosis-taken-back' | 'in-doubt' | undefined;
  /** Also those whose diagnosis a comeback took back; without it they prove nothing and are left out. */
  readonly alsoTakenBack?: boolean | undefined;
}

const years = sql<number>`(${monthOf(sql<number>`concerns.closed_ms`, sql<number>`concerns.closed_offset`)} / 12 - vehicles.year)`;
const band = sql<number>`(jobs.mileage_km / ${sql.lit(mileageBand_km)})`;

function wanted(db: Db, { fromMs, untilMs }: Stretch, filter: RepairFilter) {
  let query = db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .leftJoin('vehicles', 'vehicles.id', 'jobs.vehicle_id')
    .where('concerns.state', '=', 'closed')
    .where('concerns.outcome', '=', 'proven')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs);
  const { modelId, familyId, symptomId, causeIds, partKind, supplier, age, mileageBands, back } = filter;
  const { modelYear, technician, families } = filter;
  if (modelYear !== undefined)
    query = query.where('vehicles.year', modelYear === null ? 'is' : '=', modelYear);
  if (technician !== undefined)
    query = query.where(sql`nullif(trim(jobs.technician), '')`, technician === null ? 'is' : '=', technician);
  if (modelId !== undefined) query = query.where('concerns.model_id', modelId === null ? 'is' : '=', modelId);
  if (familyId !== undefined)
    query = query.where('concerns.family_id', familyId === null ? 'is' : '=', familyId);
  if (families !== undefined)
    query = query.where((eb) =>
      families.isOther
        ? eb.or([
            eb('concerns.family_id', 'is', null),
            eb('concerns.family_id', 'not in', [...families.of, '']),
          ])
        : eb('concerns.family_id', 'in', [...families.of, '']),
    );
  if (symptomId !== undefined)
    query = query.where('concerns.symptom_id', symptomId === null ? 'is' : '=', symptomId);
  if (causeIds !== undefined)
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_causes')
          .select('concern_causes.seq')
          .whereRef('concern_causes.concern_id', '=', 'concerns.id')
          .$if(causeIds === null, (q) => q.where('concern_causes.cause_id', 'is', null))
          .$if(causeIds !== null, (q) =>
            q.where('concern_causes.cause_id', 'in', causeIds && causeIds.length > 0 ? causeIds : ['']),
          ),
      ),
    );
  if (partKind !== undefined || supplier !== undefined)
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concern_parts')
          .select('concern_parts.seq')
          .whereRef('concern_parts.concern_id', '=', 'concerns.id')
          .$if(partKind !== undefined, (q) =>
            q.where('concern_parts.kind', partKind === null ? 'is' : '=', partKind ?? null),
          )
          .$if(supplier !== undefined, (q) =>
            q.where('concern_parts.supplier', supplier === null ? 'is' : '=', supplier ?? null),
          ),
      ),
    );
  if (age === null) query = query.where('vehicles.year', 'is', null);
  else if (age !== undefined) {
    query = query.where(years, '>=', age.from);
    if (age.to !== null) query = query.where(years, '<=', age.to);
  }
  if (mileageBands === null) query = query.where('jobs.mileage_km', 'is', null);
  else if (mileageBands !== undefined) {
    query = query.where(band, '>=', mileageBands.from);
    if (mileageBands.to !== null) query = query.where(band, '<=', mileageBands.to);
  }
  if (back !== undefined)
    query = query.where((eb) =>
      eb.exists(
        eb
          .selectFrom('concerns as later')
          .select('later.id')
          .whereRef('later.comeback_of', '=', 'concerns.id')
          .where('later.comeback_state', '=', back),
      ),
    );
  else if (!filter.alsoTakenBack)
    query = query.where(
      sql<boolean>`not exists (select 1 from concerns as later
        where later.comeback_of = concerns.id and later.comeback_state = 'diagnosis-taken-back')`,
    );
  return query;
}

/** Proven repairs behind a number of a report, newest first, with their causes, parts and returns. */
export async function repairsBehind(db: Db, stretch: Stretch, filter: RepairFilter, limit: number) {
  const counted = await wanted(db, stretch, filter)
    .select((eb) => eb.fn.countAll().as('all'))
    .executeTakeFirst();
  const rows = await wanted(db, stretch, filter)
    .select([
      'concerns.id',
      'concerns.words',
      'concerns.symptom_id as symptomId',
      'concerns.model_id as modelId',
      'concerns.closed_ms as closedMs',
      'concerns.closed_offset as closedOffset',
      'concerns.proof',
      'jobs.id as jobId',
      'jobs.number as jobNumber',
      'jobs.mileage_km as mileage_km',
      'vehicles.plate',
      'vehicles.model_words as modelWords',
    ])
    .orderBy('concerns.closed_ms', 'desc')
    .orderBy('jobs.number', 'desc')
    .limit(limit)
    .execute();
  const ids = rows.map((row) => row.id);
  const all = Number(counted?.all ?? 0);
  if (ids.length === 0) return { all, rows, causes: [], parts: [], returns: [] };
  const causes = await db
    .selectFrom('concern_causes')
    .select(['concern_id as concernId', 'cause_id as causeId', 'words'])
    .where('concern_id', 'in', ids)
    .orderBy('seq')
    .execute();
  const parts = await db
    .selectFrom('concern_parts')
    .select(['concern_id as concernId', 'description', 'kind', 'supplier', 'quantity'])
    .where('concern_id', 'in', ids)
    .orderBy('seq')
    .execute();
  const returns = await db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select([
      'concerns.id as concernId',
      'concerns.comeback_of as of',
      'concerns.comeback_days as days',
      'concerns.comeback_state as state',
      'concerns.comeback_class as word',
      'concerns.comeback_why as why',
      'jobs.number as jobNumber',
    ])
    .where('concerns.comeback_of', 'in', ids)
    .where('concerns.comeback_state', 'is not', null)
    .orderBy('jobs.opened_ms')
    .execute();
  return { all, rows, causes, parts, returns };
}

/** Diagnoses closed in a stretch that a comeback took back, newest return first, with what it was in the end. */
export async function takenBack(db: Db, { fromMs, untilMs }: Stretch, limit: number) {
  const of = db
    .selectFrom('concerns as later')
    .innerJoin('concerns as first', 'first.id', 'later.comeback_of')
    .innerJoin('jobs as later_job', 'later_job.id', 'later.job_id')
    .innerJoin('jobs as first_job', 'first_job.id', 'first.job_id')
    .where('later.comeback_state', '=', 'diagnosis-taken-back')
    .where('first.closed_ms', '>=', fromMs)
    .where('first.closed_ms', '<', untilMs);
  const counted = await of.select((eb) => eb.fn.countAll().as('all')).executeTakeFirst();
  const rows = await of
    .select([
      'first.id as firstId',
      'first.symptom_id as symptomId',
      'first.model_id as modelId',
      'first.closed_ms as closedMs',
      'first.closed_offset as closedOffset',
      'first_job.number as firstNumber',
      'later.id as laterId',
      'later.comeback_days as days',
      'later.comeback_class as word',
      'later.comeback_why as why',
      'later_job.number as laterNumber',
    ])
    .orderBy('later_job.number', 'desc')
    .limit(limit)
    .execute();
  const ids = rows.flatMap((row) => [row.firstId, row.laterId]);
  const causes =
    ids.length === 0
      ? []
      : await db
          .selectFrom('concern_causes')
          .select(['concern_id as concernId', 'cause_id as causeId', 'words'])
          .where('concern_id', 'in', ids)
          .orderBy('seq')
          .execute();
  return { all: Number(counted?.all ?? 0), rows, causes };
}

/** How a stretch went, in plain counts. */
export async function stretchFigures(db: Db, { fromMs, untilMs }: Stretch) {
  const opened = await db
    .selectFrom('jobs')
    .select((eb) => eb.fn.countAll().as('all'))
    .where('opened_ms', '>=', fromMs)
    .where('opened_ms', '<', untilMs)
    .executeTakeFirst();
  const closed = await db
    .selectFrom('concerns')
    .select((eb) => [
      'outcome',
      eb.fn.countAll().as('concerns'),
      eb.fn.sum('minutes').as('minutes'),
      sql<number>`count(minutes)`.as('timed'),
    ])
    .where('state', '=', 'closed')
    .where('closed_ms', '>=', fromMs)
    .where('closed_ms', '<', untilMs)
    .groupBy('outcome')
    .execute();
  const visits = await db
    .selectFrom('concerns')
    .select(sql<number>`count(distinct job_id)`.as('all'))
    .where('state', '=', 'closed')
    .where('closed_ms', '>=', fromMs)
    .where('closed_ms', '<', untilMs)
    .executeTakeFirst();
  const returned = await db
    .selectFrom('concerns')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select((eb) => ['concerns.comeback_state as state', eb.fn.countAll().as('all')])
    .where('concerns.comeback_state', 'is not', null)
    .where('jobs.opened_ms', '>=', fromMs)
    .where('jobs.opened_ms', '<', untilMs)
    .groupBy('concerns.comeback_state')
    .execute();
  return {
    opened: Number(opened?.all ?? 0),
    visits: Number(visits?.all ?? 0),
    closed: closed.map((row) => ({
      outcome: row.outcome,
      concerns: Number(row.concerns),
      minutes: Number(row.minutes ?? 0),
      timed: Number(row.timed),
    })),
    returned: returned.map((row) => ({ state: row.state, all: Number(row.all) })),
  };
}

/** Checks of closed concerns by what they showed: how often, and how many different answers there were. */
export async function checksDone(db: Db, { fromMs, untilMs }: Stretch) {
  const rows = await db
    .selectFrom('readings')
    .innerJoin('concerns', 'concerns.id', 'readings.concern_id')
    .select((eb) => [
      'readings.check_id as checkId',
      'readings.outcome',
      eb.fn.countAll().as('times'),
      sql<number>`count(distinct readings.concern_id)`.as('concerns'),
    ])
    .where('readings.check_id', 'is not', null)
    .where('readings.outcome', 'is not', null)
    .where('readings.skipped', 'is', null)
    .where('readings.undone_ms', 'is', null)
    .where('concerns.state', '=', 'closed')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .groupBy(['readings.check_id', 'readings.outcome'])
    .execute();
  return rows.map((row) => ({
    checkId: row.checkId ?? '',
    outcome: row.outcome ?? '',
    times: Number(row.times),
    concerns: Number(row.concerns),
  }));
}

/** Proven concerns whose cause was written in words, since the book lacks it; newest first. */
export async function provenInWords(db: Db, { fromMs, untilMs }: Stretch) {
  return db
    .selectFrom('concern_causes')
    .innerJoin('concerns', 'concerns.id', 'concern_causes.concern_id')
    .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
    .select([
      'concern_causes.words',
      'concerns.symptom_id as symptomId',
      'concerns.minutes',
      'jobs.number as jobNumber',
    ])
    .where('concern_causes.words', 'is not', null)
    .where('concerns.state', '=', 'closed')
    .where('concerns.outcome', '=', 'proven')
    .where('concerns.closed_ms', '>=', fromMs)
    .where('concerns.closed_ms', '<', untilMs)
    .orderBy('concerns.closed_ms', 'desc')
    .limit(5000)
    .execute();
}
