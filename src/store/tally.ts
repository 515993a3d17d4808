import { sql } from 'kysely';
import type { Db, Tables } from './tables.ts';

type TallyTableRow = Tables['tally'];
type ClosedTableRow = Tables['tally_closed'];

/** All rows of one symptom. */
export async function loadTally(db: Db, symptomId: string): Promise<TallyTableRow[]> {
  return db.selectFrom('tally').selectAll().where('symptom_id', '=', symptomId).execute();
}

/** How many concerns of one symptom closed how. */
export async function loadClosed(db: Db, symptomId: string): Promise<ClosedTableRow[]> {
  return db.selectFrom('tally_closed').selectAll().where('symptom_id', '=', symptomId).execute();
}

export async function loadWholeTally(db: Db): Promise<{ tally: TallyTableRow[]; closed: ClosedTableRow[] }> {
  return {
    tally: await db.selectFrom('tally').selectAll().execute(),
    closed: await db.selectFrom('tally_closed').selectAll().execute(),
  };
}

/** Adds to a row (negative takes away); a row that comes to nothing goes. */
export async function moveTally(db: Db, row: TallyTableRow): Promise<void> {
  await db
    .insertInto('tally')
    .values(row)
    .onConflict((on) =>
      on.columns(['symptom_id', 'cause_id', 'model_id', 'family_id']).doUpdateSet({
        concerns: sql`tally.concerns + excluded.concerns`,
        weight: sql`tally.weight + excluded.weight`,
      }),
    )
    .execute();
  await db
    .deleteFrom('tally')
    .where('symptom_id', '=', row.symptom_id)
    .where('concerns', '=', 0)
    .where('weight', '=', 0)
    .execute();
}

export async function moveClosed(db: Db, row: ClosedTableRow): Promise<void> {
  await db
    .insertInto('tally_closed')
    .values(row)
    .onConflict((on) =>
      on
        .columns(['symptom_id', 'outcome', 'model_id', 'family_id'])
        .doUpdateSet({ concerns: sql`tally_closed.concerns + excluded.concerns` }),
    )
    .execute();
  await db
    .deleteFrom('tally_closed')
    .where('symptom_id', '=', row.symptom_id)
    .where('concerns', '=', 0)
    .execute();
}

/** Replaces the whole tally, for a rebuild. */
export async function replaceTally(
  db: Db,
  tally: readonly TallyTableRow[],
  closed: readonly ClosedTableRow[],
): Promise<void> {
  await db.deleteFrom('tally').execute();
  await db.deleteFrom('tally_closed').execute();
  for (const row of tally) await db.insertInto('tally').values(row).execute();
  for (const row of closed) await db.insertInto('tally_closed').values(row).execute();
}

const pageSize = 20_000;

/**
 * Every closed concern with its vehicle and mileage, its causes, and whether a return took it back, so many at a time: a
 * large ledger is never in memory as a whole.
 */
export async function* closedConcernPages(db: Db) {
  let after = '';
  for (;;) {
    const rows = await db
      .selectFrom('concerns')
      .innerJoin('jobs', 'jobs.id', 'concerns.job_id')
      .selectAll('concerns')
      .select(['jobs.vehicle_id', 'jobs.mileage_km as job_mileage_km'])
      .where('concerns.state', '=', 'closed')
      .where('concerns.id', '>', after)
      .orderBy('concerns.id')
      .limit(pageSize)
      .execute();
    const last = rows.at(-1);
    if (!last) return;
    const causes = await db
      .selectFrom('concern_causes')
      .selectAll()
      .where('concern_id', '>', after)
      .where('concern_id', '<=', last.id)
      .orderBy('concern_id')
      .orderBy('seq')
      .execute();
    const takenBack = await db
      .selectFrom('concerns')
      .select('comeback_of')
      .where('comeback_state', '=', 'diagnosis-taken-back')
      .where('comeback_of', '>', after)
      .where('comeback_of', '<=', last.id)
      .execute();
    yield { rows, causes, takenBack: new Set(takenBack.map((row) => row.comeback_of)) };
    after = last.id;
  }
}
