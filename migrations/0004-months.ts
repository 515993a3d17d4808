import { sql } from 'kysely';
import type { Migration } from './columns.ts';

/** Days since 0000-03-01 on the clock of the shop; then year and month (H. Hinnant, chrono-compatible date algorithms). */
const days = '((c.closed_ms + coalesce(c.closed_offset, 0) * 60000) / 86400000 + 719468)';
const dayOfEra = `(${days} % 146097)`;
const yearOfEra = `((${dayOfEra} - ${dayOfEra} / 1460 + ${dayOfEra} / 36524 - ${dayOfEra} / 146096) / 365)`;
const dayOfYear = `(${dayOfEra} - (365 * ${yearOfEra} + ${yearOfEra} / 4 - ${yearOfEra} / 100))`;
const month = `(${days} / 146097 * 4800 + ${yearOfEra} * 12 + (5 * ${dayOfYear} + 2) / 153 + 2)`;

const returned = (state: string): string =>
  `exists (select 1 from concerns as later where later.comeback_of = c.id and later.comeback_state = '${state}')`;
const stands = `c.outcome = 'proven' and not ${returned('diagnosis-taken-back')}`;
const isFirst = `not exists (select 1 from concerns as other where other.job_id = c.job_id and other.state = 'closed'
  and (other.closed_ms < c.closed_ms or (other.closed_ms = c.closed_ms and other.id < c.id)))`;
const machine = `coalesce(c.model_id, '') as model_id, coalesce(c.family_id, '') as family_id, coalesce(c.symptom_id, '') as symptom_id`;

const causes = `select distinct concern_id, coalesce(cause_id, '') as key from concern_causes`;
const kinds = `select distinct concern_id, coalesce(kind, '') as key from concern_parts`;
const suppliers = `select distinct concern_id, coalesce(supplier, '') as key from concern_parts`;
const both = `select distinct concern_id, kind as key, supplier from concern_parts where kind is not null and supplier is not null`;

const repairs = (grouping: string, groups: string | null, supplier = `''`): string => `
  select ${month} as month, '${grouping}' as grouping, ${groups === null ? `''` : 'g.key'} as key, ${supplier} as supplier,
    count(*) as repairs,
    sum(case when ${returned('diagnosis-taken-back')} then 0 when ${returned('diagnosis-stands')} then 1 else 0 end) as did_not_hold,
    sum(case when ${returned('diagnosis-taken-back')} then 1 else 0 end) as taken_back
  from concerns as c ${groups === null ? '' : `join (${groups}) as g on g.concern_id = c.id`}
  where c.state = 'closed' and c.outcome = 'proven' group by 1, 2, 3, 4`;

/** The counts by month from nothing but the closed concerns: table and query. */
export const monthCounts = {
  month_concerns: `select month, model_id, family_id, symptom_id, sum(proven) as concerns, sum(first) as visits
    from (select ${month} as month, ${machine}, case when ${stands} then 1 else 0 end as proven,
        case when ${isFirst} then 1 else 0 end as first
      from concerns as c where c.state = 'closed') as closed
    group by month, model_id, family_id, symptom_id having sum(proven) <> 0 or sum(first) <> 0`,
  month_causes: `select ${month} as month, g.key as cause_id, ${machine}, count(*) as concerns
    from concerns as c join (${causes}) as g on g.concern_id = c.id
    where c.state = 'closed' and ${stands} group by 1, 2, 3, 4, 5`,
  month_repairs: [
    repairs('all', null),
    repairs('cause', causes),
    repairs('part-kind', kinds),
    repairs('supplier', suppliers),
    repairs('part-kind-and-supplier', both, 'g.supplier'),
  ].join(' union all '),
  day_parts: `select c.closed_ms / 86400000 as day, coalesce(p.kind, '') as kind, sum(p.quantity) as quantity
    from concern_parts as p join concerns as c on c.id = p.concern_id where c.state = 'closed' group by 1, 2`,
} as const;

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
        'month',
        'cause_id',
        'model_id',
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
    await index('concerns_model', 'concerns', ['model_id', 'closed_ms']).execute();
    await index('concerns_returned', 'concerns', ['comeback_state', 'comeback_of'])
      .where('comeback_of', 'is not', null)
      .execute();
    await index('concern_parts_kind', 'concern_parts', ['kind', 'supplier', 'concern_id']).execute();
    // Nearly every concern has one cause; those with more are found without looking at the rest.
    await index('concern_causes_more', 'concern_causes', ['concern_id']).where('seq', '>', 0).execute();
    for (const [table, counts] of Object.entries(monthCounts))
      await sql`insert into ${sql.table(table)} ${sql.raw(counts)}`.execute(db);
  },
};
