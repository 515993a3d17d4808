import { ledgerSpan } from '../store/index.ts';
import type { ProcedureName } from './contract.ts';
import { type Desk, inSnapshot, type Office } from './desk.ts';
import type { Group } from './group.ts';

/** Who waits for a report, and how it may be stopped. */
export interface Waiting {
  /** Ended by whoever asked: a closed window, a report that is no longer looked at. */
  readonly signal?: AbortSignal | undefined;
  /** Under this id it can be watched and cancelled. */
  readonly workId?: string | undefined;
}

/** These ask about running reports and must not wait for one. */
export const besideReports: ReadonlySet<ProcedureName> = new Set<ProcedureName>([
  'report.progress',
  'report.cancel',
]);

/**
 * Runs a report on one snapshot, so that what is written meanwhile does not change it.
 * @throws Problem cancelled once it was stopped
 */
export function runReport<T>(
  office: Office,
  name: ProcedureName,
  waiting: Waiting,
  step: (desk: Desk) => Promise<T>,
): Promise<T> {
  return office.works.run(
    waiting.workId ?? office.options.newId(),
    name,
    (worker) =>
      inSnapshot(office.desk(office.db), async (db) => {
        // The snapshot is that of the first reading, so it is taken before anything else may be let in between.
        await ledgerSpan(db);
        // It may have waited for the report before it, and be unwanted by now.
        await worker.breathe();
        return step(office.desk(db, worker));
      }),
    waiting.signal,
  );
}

export const reportWorks = {
  'report.progress': async (desk, { workId }) => desk.works.get(workId),
  'report.cancel': async (desk, { workId }) => desk.works.callOff(workId),
} satisfies Group<'report.'>;
