import { sql } from 'kysely';
import type { Migration } from './columns.ts';

/** Customers, vehicles, job cards with their concerns, readings and proofs, the tally, the book, the settings. */
export const shop: Migration = {
  version: 1,
  name: 'shop',
  async up(db, c) {
    await c
      .table(db, 'customers')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('version', c.int, (col) => col.notNull())
      .addColumn('name', c.text, (col) => col.notNull())
      .addColumn('phone', c.text)
      .addColumn('email', c.text)
      .addColumn('note', c.text)
      .addColumn('folded', c.text, (col) => col.notNull())
      .addColumn('made_ms', c.int, (col) => col.notNull())
      .addColumn('made_offset', c.int, (col) => col.notNull())
      .execute();

    await c
      .table(db, 'vehicles')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('version', c.int, (col) => col.notNull())
      .addColumn('customer_id', c.text, (col) => col.references('customers.id'))
      .addColumn('plate', c.text)
      .addColumn('frame', c.text)
      .addColumn('model_id', c.text)
      .addColumn('model_words', c.text)
      .addColumn('year', c.int)
      .addColumn('color', c.text)
      .addColumn('mileage_km', c.int, (col) => col.check(sql`mileage_km >= 0`))
      .addColumn('folded', c.text, (col) => col.notNull())
      .addColumn('made_ms', c.int, (col) => col.notNull())
      .addColumn('made_offset', c.int, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('vehicles_customer').on('vehicles').column('customer_id').execute();

    await c
      .table(db, 'jobs')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('number', c.int, (col) => col.notNull().unique())
      .addColumn('version', c.int, (col) => col.notNull())
      .addColumn('status', c.text, (col) => col.notNull())
      .addColumn('vehicle_id', c.text, (col) => col.references('vehicles.id'))
      .addColumn('opened_ms', c.int, (col) => col.notNull())
      .addColumn('opened_offset', c.int, (col) => col.notNull())
      .addColumn('closed_ms', c.int)
      .addColumn('closed_offset', c.int)
      .addColumn('promise_ms', c.int)
      .addColumn('promise_offset', c.int)
      .addColumn('mileage_km', c.int, (col) => col.check(sql`mileage_km >= 0`))
      .addColumn('key_tag', c.text)
      .addColumn('technician', c.text)
      .addColumn('note', c.text)
      .addColumn('limit_amount', c.int)
      .addColumn('limit_currency', c.text)
      .addColumn('test_ride', c.bool, (col) => col.notNull().check(c.boolCheck('test_ride')))
      .addColumn('old_parts', c.bool, (col) => col.notNull().check(c.boolCheck('old_parts')))
      .addColumn('folded', c.text, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('jobs_vehicle').on('jobs').column('vehicle_id').execute();
    await db.schema.createIndex('jobs_status').on('jobs').columns(['status', 'number']).execute();

    await c
      .table(db, 'concerns')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('version', c.int, (col) => col.notNull())
      .addColumn('job_id', c.text, (col) => col.notNull().references('jobs.id'))
      .addColumn('seq', c.int, (col) => col.notNull())
      .addColumn('words', c.text, (col) => col.notNull())
      .addColumn('symptom_id', c.text)
      .addColumn('state', c.text, (col) => col.notNull().check(sql`state in ('open', 'closed')`))
      .addColumn('outcome', c.text, (col) =>
        col.check(sql`outcome in ('proven', 'not-reproduced', 'normal', 'handling')`),
      )
      .addColumn('proof', c.text, (col) => col.check(sql`proof in ('retested', 'replaced', 'measured')`))
      .addColumn('retest', c.text)
      .addColumn('minutes', c.real)
      .addColumn('planned_minutes', c.real)
      .addColumn('close_note', c.text)
      .addColumn('closed_ms', c.int)
      .addColumn('closed_offset', c.int)
      .addColumn('model_id', c.text)
      .addColumn('family_id', c.text)
      .addColumn('counted', c.bool, (col) => col.notNull().check(c.boolCheck('counted')))
      .addColumn('comeback_of', c.text, (col) => col.references('concerns.id'))
      .addColumn('comeback_days', c.int)
      .addColumn('comeback_km', c.int)
      .addColumn('comeback_state', c.text)
      .addColumn('comeback_class', c.text)
      .addColumn('comeback_why', c.text)
      .addCheckConstraint(
        'closed_has_outcome',
        sql`(case when state = 'closed' then 1 else 0 end) = (case when outcome is null then 0 else 1 end)`,
      )
      .addCheckConstraint(
        'proven_has_proof',
        sql`(case when outcome = 'proven' then 1 else 0 end) = (case when proof is null then 0 else 1 end)`,
      )
      .execute();
    await db.schema.createIndex('concerns_job').on('concerns').columns(['job_id', 'seq']).execute();
    await db.schema.createIndex('concerns_comeback').on('concerns').column('comeback_of').execute();
    await db.schema
      .createIndex('concerns_symptom')
      .on('concerns')
      .columns(['symptom_id', 'state', 'closed_ms'])
      .execute();

    await c
      .table(db, 'concern_causes')
      .addColumn('concern_id', c.text, (col) => col.notNull().references('concerns.id'))
      .addColumn('seq', c.int, (col) => col.notNull())
      .addColumn('cause_id', c.text)
      .addColumn('words', c.text)
      .addPrimaryKeyConstraint('concern_causes_key', ['concern_id', 'seq'])
      .addCheckConstraint('cause_or_words', sql`(cause_id is null) <> (words is null)`)
      .execute();
    await db.schema.createIndex('concern_causes_cause').on('concern_causes').column('cause_id').execute();

    await c
      .table(db, 'concern_parts')
      .addColumn('concern_id', c.text, (col) => col.notNull().references('concerns.id'))
      .addColumn('seq', c.int, (col) => col.notNull())
      .addColumn('description', c.text, (col) => col.notNull())
      .addColumn('part_number', c.text)
      .addColumn('kind', c.text)
      .addColumn('supplier', c.text)
      .addColumn('quantity', c.int, (col) => col.notNull().check(sql`quantity > 0`))
      .addColumn('for_cause', c.int)
      .addPrimaryKeyConstraint('concern_parts_key', ['concern_id', 'seq'])
      .execute();

    await c
      .table(db, 'readings')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('concern_id', c.text, (col) => col.notNull().references('concerns.id'))
      .addColumn('seq', c.int, (col) => col.notNull())
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('check_id', c.text)
      .addColumn('title', c.text, (col) => col.notNull())
      .addColumn('shows', c.text, (col) => col.notNull())
      .addColumn('outcome', c.text)
      .addColumn('skipped', c.text)
      .addColumn('reading', c.text)
      .addColumn('undone_ms', c.int)
      .addUniqueConstraint('readings_order', ['concern_id', 'seq'])
      .execute();

    await c
      .table(db, 'shown')
      .addColumn('concern_id', c.text, (col) => col.notNull().references('concerns.id'))
      .addColumn('seq', c.int, (col) => col.notNull())
      .addColumn('moment', c.text, (col) =>
        col.notNull().check(sql`moment in ('opened', 'reading', 'closed')`),
      )
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('book_version', c.text, (col) => col.notNull())
      .addColumn('ranking', c.text, (col) => col.notNull())
      .addColumn('plan', c.text)
      .addPrimaryKeyConstraint('shown_key', ['concern_id', 'seq'])
      .execute();

    await c
      .table(db, 'advisories')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('job_id', c.text, (col) => col.notNull().references('jobs.id'))
      .addColumn('vehicle_id', c.text, (col) => col.references('vehicles.id'))
      .addColumn('words', c.text, (col) => col.notNull())
      .addColumn('urgency', c.text, (col) => col.notNull().check(sql`urgency in ('now', 'soon', 'watch')`))
      .addColumn('do_not_ride', c.bool, (col) => col.notNull().check(c.boolCheck('do_not_ride')))
      .addColumn('state', c.text, (col) => col.notNull().check(sql`state in ('open', 'settled', 'declined')`))
      .addColumn('made_ms', c.int, (col) => col.notNull())
      .addColumn('made_offset', c.int, (col) => col.notNull())
      .execute();
    await db.schema.createIndex('advisories_job').on('advisories').column('job_id').execute();
    await db.schema
      .createIndex('advisories_vehicle')
      .on('advisories')
      .columns(['vehicle_id', 'state'])
      .execute();

    await c
      .table(db, 'approvals')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('job_id', c.text, (col) => col.notNull().references('jobs.id'))
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('who', c.text, (col) => col.notNull())
      .addColumn('how', c.text, (col) => col.notNull())
      .addColumn('amount', c.int, (col) => col.notNull())
      .addColumn('currency', c.text, (col) => col.notNull())
      .addColumn('words', c.text)
      .execute();
    await db.schema.createIndex('approvals_job').on('approvals').column('job_id').execute();

    // An empty text stands for "model not known": a null could not be part of the key.
    await c
      .table(db, 'tally')
      .addColumn('symptom_id', c.text, (col) => col.notNull())
      .addColumn('cause_id', c.text, (col) => col.notNull())
      .addColumn('model_id', c.text, (col) => col.notNull())
      .addColumn('family_id', c.text, (col) => col.notNull())
      .addColumn('concerns', c.int, (col) => col.notNull())
      .addColumn('weight', c.int, (col) => col.notNull())
      .addPrimaryKeyConstraint('tally_key', ['symptom_id', 'cause_id', 'model_id', 'family_id'])
      .execute();
    await c
      .table(db, 'tally_closed')
      .addColumn('symptom_id', c.text, (col) => col.notNull())
      .addColumn('outcome', c.text, (col) => col.notNull())
      .addColumn('model_id', c.text, (col) => col.notNull())
      .addColumn('family_id', c.text, (col) => col.notNull())
      .addColumn('concerns', c.int, (col) => col.notNull())
      .addPrimaryKeyConstraint('tally_closed_key', ['symptom_id', 'outcome', 'model_id', 'family_id'])
      .execute();

    await c
      .table(db, 'handbook_entries')
      .addColumn('kind', c.text, (col) => col.notNull())
      .addColumn('id', c.text, (col) => col.notNull())
      .addColumn('path', c.text, (col) => col.notNull())
      .addColumn('position', c.int, (col) => col.notNull())
      .addColumn('body', c.text)
      .addColumn('shipped', c.text)
      .addPrimaryKeyConstraint('handbook_entries_key', ['kind', 'id'])
      .execute();
    await c
      .table(db, 'handbook_changes')
      .addColumn('seq', c.int, (col) => col.primaryKey())
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('who', c.text, (col) => col.notNull())
      .addColumn('why', c.text, (col) => col.notNull())
      .addColumn('kind', c.text, (col) => col.notNull())
      .addColumn('id', c.text, (col) => col.notNull())
      .addColumn('before', c.text)
      .addColumn('after', c.text)
      .addColumn('undoes', c.int)
      .execute();
    await c
      .table(db, 'learned_words')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('symptom_id', c.text, (col) => col.notNull())
      .addColumn('text', c.text, (col) => col.notNull())
      .addColumn('at_ms', c.int, (col) => col.notNull())
      .addColumn('at_offset', c.int, (col) => col.notNull())
      .addColumn('undone_ms', c.int)
      .execute();

    await c
      .table(db, 'settings')
      .addColumn('key', c.text, (col) => col.primaryKey())
      .addColumn('value', c.text, (col) => col.notNull())
      .execute();

    // What a caller made under an id of its own: the same content again is the same answer.
    await c
      .table(db, 'made')
      .addColumn('id', c.text, (col) => col.primaryKey())
      .addColumn('what', c.text, (col) => col.notNull())
      .addColumn('digest', c.text, (col) => col.notNull())
      .execute();
  },
};
