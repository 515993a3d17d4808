import { type Kysely, sql } from 'kysely';
import type { Migration } from './columns.ts';

/** Days since 0000-03-01 on the clock of the shop; then year and month (H. Hinnant, chrono-compatible date algorithms). */
const days = '((c.closed_ms + coalesce(c.closed_offset, 0) * 60000) / 86400000 + 719468)';
const dayOfEra = `(${days} % 146097)`;
const yearOfEra = `((${dayOfEra} - ${dayOfEra} / 1460 + ${dayOfEra} / 36524 - ${dayOfEra} / 146096) / 365)`;
const dayOfYear = `(${dayOfEra} - (365 * ${yearOfEra} + ${yearOfEra} / 4 - ${yearOfEra} / 100))`;
const month = `(${days} / 146097 * 4800 + ${yearOfEra} * 12 + (5 * ${dayOfYear} + 2) / 153 + 2)`;

/** Closed concerns as they are counted, for as long as the counting takes. */
const closing = `select c.id, ${month} as month, c.closed_ms / 86400000 as day,
    coalesce(c.model_id, '') as model_id, coalesce(c.family_id, '') as family_id, coalesce(c.symptom_id, '') as symptom_id,
    case when c.outcome = 'proven' then 1 else 0 end as proven,
    case when c.outcome = 'proven' and coalesce(back.wrong, 0) = 0 then 1 else 0 end as stands,
    case when c.outcome = 'proven' and coalesce(back.wrong, 0) = 0 then coalesce(back.held, 0) else 0 end as did_not_hold,
    case when c.outcome = 'proven' then coalesce(back.wrong, 0) else 0 end as taken_back,
    case when not exists (select 1 from concerns as other where other.job_id = c.job_id and other.state = 'closed'
      and (other.closed_ms < c.closed_ms or (other.closed_ms = c.closed_ms and other.id < c.id))) then 1 else 0 end as first
  from concerns as c left join (select comeback_of,
      max(case when comeback_state = 'diagnosis-taken-back' then 1 else 0 end) as wrong,
      max(case when comeback_state = 'diagnosis-stands' then 1 else 0 end) as held
    from concerns where comeback_of is not null group by comeback_of) as back on back.comeback_of = c.id
  where c.state = 'closed' order by c.id`;

const repairs = (grouping: string, groups: string | null, key: string, supplier = `''`): string => `
  select c.month, '${grouping}' as grouping, ${key} as key, ${supplier} as supplier, count(*) as repairs,
    sum(c.did_not_hold) as did_not_hold, sum(c.taken_back) as taken_back
  from ${groups === null ? 'counted_closing as c' : `(select distinct concern_id, ${groups}) as g join counted_closing as c on c.id = g.concern_id`}
  where c.proven = 1 group by 1, 2, 3, 4`;

/** The counts by month from nothing but the closed concerns: table and query. */
const counted = {
  month_concerns: `select month, model_id, family_id, symptom_id, sum(stands) as concerns, sum(first) as visits
    from counted_closing group by month, model_id, family_id, symptom_id having sum(stands) <> 0 or sum(first) <> 0`,
  month_causes: `select c.month, g.cause_id, c.model_id, c.family_id, c.symptom_id, count(*) as concerns
    from (select distinct concern_id, coalesce(cause_id, '') as cause_id from concern_causes) as g
      join counted_closing as c on c.id = g.concern_id
    where c.stands = 1 group by 1, 2, 3, 4, 5`,
  month_repairs: [
    repairs('all', null, `''`),
    repairs('cause', `coalesce(cause_id, '') as key from concern_causes`, 'g.key'),
    repairs('part-kind', `coalesce(kind, '') as key from concern_parts`, 'g.key'),
    repairs('supplier', `coalesce(supplier, '') as key from concern_parts`, 'g.key'),
    repairs(
      'part-kind-and-supplier',
      'kind, supplier from concern_parts where kind is not null and supplier is not null',
      'g.kind',
      'g.supplier',
    ),
  ].join(' union all '),
  day_parts: `select c.day, coalesce(p.kind, '') as kind, sum(p.quantity) as quantity
    from concern_parts as p join counted_closing as c on c.id = p.concern_id group by 1, 2`,
} as const;

/**
 * Counts everything anew, each table beside the one that stands: hands each fresh table by name to `use`, in which the
 * columns have the order of the standing one.
 */
export async function countMonths(
  db: Kysely<unknown>,
  use: (table: keyof typeof counted, fresh: string) => Promise<void>,
): Promise<void> {
  const run = (text: string) => sql.raw(text).execute(db);
  // Nothing is left of an earlier count that was cut off on the same connection.
  await run('drop table if exists counted_closing');
  await run(`create temporary table counted_closing (id text primary key, month bigint, day bigint, model_id text,
    family_id text, symptom_id text, proven bigint, stands bigint, did_not_hold bigint, taken_back bigint, first bigint)`);
  await run(`insert into counted_closing ${closing}`);
  for (const [table, query] of Object.entries(counted)) {
    const fresh = `fresh_${table}`;
    await run(`drop table if exists ${fresh}`);
    await run(`create temporary table ${fresh} as ${query}`);
    await use(table as keyof typeof counted, fresh);
    await run(`drop table ${fresh}`);
  }
  await run('drop table counted_closing');
}

/** Counts of closed concerns by month, moved with every closing, so that a report need not read every job. */
export const months: Migration = {
  version: 4,
  name: 'months',
  async up(db, c) {
    await c
      .keyedTable(db, 'month_concerns')
      .addColumn('month', c.int, (col) => col.notNull())
      .addColumn('model_id', c.text, (col) => col.notNull())
      .addColumn('family_id', c.text, (col) => col.notNull())
      .addColumn('symptom_id', c.text, (col) => col.notNull())
      .addColumn('concerns', c.int, (col) => col.notNull())
      .addColumn('visits', c.int, (col) => col.notNull())
      .addPrimaryKeyConstraint('month_concerns_key', ['month', 'model_id', 'family_id', 'symptom_id'])
      .execute();
    await c
      .keyedTable(db, 'month_causes')
      .addColumn('month', c.int, (col) => col.notNull())
      .addColumn('cause_id', c.text, (col) => col.notNull())
      .addColumn('model_id', c.text, (col) => col.notNull())
      .addColumn('family_id', c.text, (col) => col.notNull())
      .addColumn('symptom_id', c.text, (col) => col.notNull())
      .addColumn('concerns', c.int, (col) => col.notNull())
      .addPrimaryKeyConstraint('month_causes_key', [
        'cause_id',
        'model_id',
        'month',
        'family_id',
        'symptom_id',
      ])
      .execute();
    await c
      .keyedTable(db, 'month_repairs')
      .addColumn('month', c.int, (col) => col.notNull())
      .addColumn('grouping', c.text, (col) => col.notNull())
      .addColumn('key', c.text, (col) => col.notNull())
      .addColumn('supplier', c.text, (col) => col.notNull())
      .addColumn('repairs', c.int, (col) => col.notNull())
      .addColumn('did_not_hold', c.int, (col) => col.notNull())
      .addColumn('taken_back', c.int, (col) => col.notNull())
      .addPrimaryKeyConstraint('month_repairs_key', ['grouping', 'month', 'key', 'supplier'])
      .execute();
    await c
      .keyedTable(db, 'day_parts')
      .addColumn('day', c.int, (col) => col.notNull())
      .addColumn('kind', c.text, (col) => col.notNull())
      .addColumn('quantity', c.int, (col) => col.notNull())
      .addPrimaryKeyConstraint('day_parts_key', ['day', 'kind'])
      .execute();
    const index = (name: string, table: string, columns: readonly string[]) =>
      db.schema
        .createIndex(name)
        .on(table)
        .columns([...columns]);
    await index('concerns_closed', 'concerns', ['state', 'closed_ms']).execute();
    // Which closing of a card was the first; it is asked of every closing.
    await index('concerns_visit', 'concerns', ['job_id', 'state', 'closed_ms']).execute();
    await index('concerns_model', 'concerns', ['model_id', 'closed_ms']).execute();
    await index('concerns_returned', 'concerns', ['comeback_state', 'comeback_of'])
      .where('comeback_of', 'is not', null)
      .execute();
    await index('concern_parts_kind', 'concern_parts', ['kind', 'concern_id', 'supplier']).execute();
    // Whether a concern has a cause is asked as often as which concerns have it.
    await db.schema.dropIndex('concern_causes_cause').execute();
    await index('concern_causes_cause', 'concern_causes', ['cause_id', 'concern_id']).execute();
    // Nearly every concern has one cause; those with more are found without looking at the rest.
    await index('concern_causes_more', 'concern_causes', ['seq', 'concern_id'])
      .where('seq', '>', 0)
      .execute();
    await countMonths(db, async (table, fresh) => {
      await sql`insert into ${sql.table(table)} select * from ${sql.table(fresh)}`.execute(db);
    });
  },
};
