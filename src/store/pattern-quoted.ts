import { sql } from 'kysely';
import type { Stretch } from './month-reach.ts';
import type { Db } from './tables.ts';

/** Jobs whose concerns are all closed, with accepted quotes, by the last closing in a stretch; newest first. */
export async function jobsWithQuotes(db: Db, { fromMs, untilMs }: Stretch, limit: number) {
  const rows = await db
    .selectFrom('jobs')
    .innerJoin('concerns', 'concerns.job_id', 'jobs.id')
    .where((eb) =>
      eb(
        'jobs.id',
        'in',
        eb
          .selectFrom('quotes')
          .select('job_id')
          .where('state', '=', 'accepted')
          .where('job_id', 'is not', null),
      ),
    )
    .select((eb) => [
      'jobs.id as jobId',
      'jobs.number as jobNumber',
      eb.fn.max('concerns.closed_ms').as('closedMs'),
      eb.fn.sum('concerns.minutes').as('minutes'),
      sql<string | null>`min(concerns.words)`.as('words'),
    ])
    .groupBy(['jobs.id', 'jobs.number'])
    .having(sql<boolean>`sum(case when concerns.state = 'open' then 1 else 0 end) = 0`)
    .having((eb) => eb.fn.max('concerns.closed_ms'), '>=', fromMs)
    .having((eb) => eb.fn.max('concerns.closed_ms'), '<', untilMs)
    .orderBy('closedMs', 'desc')
    .orderBy('jobs.number', 'desc')
    .limit(limit)
    .execute();
  return rows.map((row) => ({ ...row, minutes: row.minutes === null ? null : Number(row.minutes) }));
}

/** Accepted quotes, fitted parts and proven causes of some jobs. */
export async function quotedOnJobs(db: Db, jobIds: readonly string[]) {
  const quotes = await db
    .selectFrom('quotes')
    .select(['job_id as jobId', 'number', 'currency', 'body', 'answer'])
    .where('job_id', 'in', jobIds)
    .where('state', '=', 'accepted')
    .orderBy('number')
    .execute();
  const parts = await db
    .selectFrom('concern_parts')
    .innerJoin('concerns', 'concerns.id', 'concern_parts.concern_id')
    .select([
      'concerns.job_id as jobId',
      'concern_parts.description',
      'concern_parts.part_number as partNumber',
      'concern_parts.quantity',
    ])
    .where('concerns.job_id', 'in', jobIds)
    .execute();
  const causes = await db
    .selectFrom('concern_causes')
    .innerJoin('concerns', 'concerns.id', 'concern_causes.concern_id')
    .select(['concerns.job_id as jobId', 'concern_causes.cause_id as causeId'])
    .where('concerns.job_id', 'in', jobIds)
    .execute();
  return { quotes, parts, causes };
}
