import type { Kysely, Transaction } from 'kysely';
import type { PartsTables } from './parts-tables.ts';

/** Rows as they stand in the tables. Instants are UTC milliseconds plus offset minutes; booleans are 0 or 1 on SQLite. */
export interface Tables extends PartsTables, MonthTables {
  customers: CustomerRow;
  vehicles: VehicleRow;
  jobs: JobTableRow;
  concerns: ConcernRow;
  concern_causes: { concern_id: string; seq: number; cause_id: string | null; words: string | null };
  concern_parts: ConcernPartRow;
  readings: ReadingRow;
  shown: ShownRow;
  advisories: AdvisoryRow;
  approvals: ApprovalRow;
  tally: {
    symptom_id: string;
    cause_id: string;
    model_id: string;
    family_id: string;
    concerns: number;
    weight: number;
  };
  tally_closed: {
    symptom_id: string;
    outcome: string;
    model_id: string;
    family_id: string;
    concerns: number;
  };
  handbook_entries: HandbookEntryRow;
  handbook_changes: HandbookChangeRow;
  learned_words: LearnedWordsRow;
  settings: { key: string; value: string };
  made: { id: string; what: string; digest: string };
  schema_version: { version: number; name: string; at_ms: number };
}

/** Counts by month, kept with every closing; empty text is "not known". See migration 0004. */
export interface MonthTables {
  month_concerns: {
    month: number;
    model_id: string;
    family_id: string;
    symptom_id: string;
    concerns: number;
    visits: number;
  };
  month_causes: {
    month: number;
    cause_id: string;
    model_id: string;
    family_id: string;
    symptom_id: string;
    concerns: number;
  };
  month_repairs: {
    month: number;
    grouping: string;
    key: string;
    supplier: string;
    repairs: number;
    did_not_hold: number;
    taken_back: number;
  };
  day_parts: { day: number; kind: string; quantity: number };
}

export interface CustomerRow {
  id: string;
  version: number;
  name: string;
  phone: string | null;
  email: string | null;
  note: string | null;
  folded: string;
  made_ms: number;
  made_offset: number;
}

export interface VehicleRow {
  id: string;
  version: number;
  customer_id: string | null;
  plate: string | null;
  frame: string | null;
  model_id: string | null;
  model_words: string | null;
  year: number | null;
  color: string | null;
  mileage_km: number | null;
  folded: string;
  made_ms: number;
  made_offset: number;
}

export interface JobTableRow {
  id: string;
  number: number;
  version: number;
  status: string;
  vehicle_id: string | null;
  opened_ms: number;
  opened_offset: number;
  closed_ms: number | null;
  closed_offset: number | null;
  promise_ms: number | null;
  promise_offset: number | null;
  mileage_km: number | null;
  key_tag: string | null;
  technician: string | null;
  note: string | null;
  limit_amount: number | null;
  limit_currency: string | null;
  test_ride: number;
  old_parts: number;
  folded: string;
}

export interface ConcernRow {
  id: string;
  version: number;
  job_id: string;
  seq: number;
  words: string;
  symptom_id: string | null;
  state: 'open' | 'closed';
  outcome: 'proven' | 'not-reproduced' | 'normal' | 'handling' | null;
  proof: 'retested' | 'replaced' | 'measured' | null;
  retest: string | null;
  minutes: number | null;
  planned_minutes: number | null;
  close_note: string | null;
  closed_ms: number | null;
  closed_offset: number | null;
  model_id: string | null;
  family_id: string | null;
  counted: number;
  comeback_of: string | null;
  comeback_days: number | null;
  comeback_km: number | null;
  comeback_state: string | null;
  comeback_class: string | null;
  comeback_why: string | null;
}

export interface ConcernPartRow {
  concern_id: string;
  seq: number;
  description: string;
  part_number: string | null;
  kind: string | null;
  supplier: string | null;
  quantity: number;
  for_cause: number | null;
}

export interface ReadingRow {
  id: string;
  concern_id: string;
  seq: number;
  at_ms: number;
  at_offset: number;
  check_id: string | null;
  title: string;
  shows: string;
  outcome: string | null;
  skipped: string | null;
  reading: string | null;
  undone_ms: number | null;
}

export interface ShownRow {
  concern_id: string;
  seq: number;
  moment: 'opened' | 'reading' | 'closed';
  at_ms: number;
  book_version: string;
  ranking: string;
  plan: string | null;
}

export interface AdvisoryRow {
  id: string;
  job_id: string;
  vehicle_id: string | null;
  words: string;
  urgency: 'now' | 'soon' | 'watch';
  do_not_ride: number;
  state: 'open' | 'settled' | 'declined';
  made_ms: number;
  made_offset: number;
}

export interface ApprovalRow {
  id: string;
  job_id: string;
  at_ms: number;
  at_offset: number;
  who: string;
  how: string;
  amount: number;
  currency: string;
  words: string | null;
}

export interface HandbookEntryRow {
  kind: string;
  id: string;
  path: string;
  position: number;
  body: string | null;
  shipped: string | null;
}

export interface HandbookChangeRow {
  seq: number;
  at_ms: number;
  at_offset: number;
  who: string;
  why: string;
  kind: string;
  id: string;
  before: string | null;
  after: string | null;
  undoes: number | null;
}

export interface LearnedWordsRow {
  id: string;
  symptom_id: string;
  text: string;
  at_ms: number;
  at_offset: number;
  undone_ms: number | null;
}

/** A connection or a transaction on it. */
export type Db = Kysely<Tables> | Transaction<Tables>;
