import type { Book } from '../book/index.ts';
import {
  type ComebackClass,
  comebackClasses,
  decideComeback,
  defaultComebackWindow,
  matchComeback,
} from '../ledger/index.ts';
import { Problem } from '../problem.ts';
import {
  type ConcernRow,
  closedConcernsOf,
  comebacksOf,
  findConcern,
  type JobCard,
  partsOf,
  updateConcern,
} from '../store/index.ts';
import type { SymptomId } from '../terms.ts';
import type { JobView, ParsedInputOf } from './contract.ts';
import { wasDeclined } from './declined-work.ts';
import type { Desk } from './desk.ts';
import { changeCard, concernOf } from './job-card.ts';
import { readShopSettings } from './settings.ts';
import { ledgerConcern, movingTally } from './tally-keeping.ts';

const isRelated =
  (book: Book) =>
  (one: SymptomId, other: SymptomId): boolean =>
    book.symptoms.get(one)?.related.includes(other) ?? false;

/** Marks a new concern as a comeback in doubt where an earlier repair of the same vehicle lies inside the window. */
export async function markComeback(desk: Desk, card: JobCard, concern: ConcernRow): Promise<void> {
  if (card.job.vehicle_id === null) return;
  const { book } = await desk.book();
  const settings = await readShopSettings(desk.db);
  const history = [];
  for (const row of await closedConcernsOf(desk.db, card.job.vehicle_id)) {
    const closed = await ledgerConcern(desk.db, row.id);
    // What the customer left undone was never repaired: its return is no comeback.
    if (closed && !(await wasDeclined(desk, row.id))) history.push(closed);
  }
  const match = matchComeback(
    history,
    {
      symptomId: concern.symptom_id as SymptomId | null,
      openedAt: card.job.opened_ms,
      mileage_km: card.job.mileage_km,
      jobId: card.job.id,
    },
    isRelated(book),
    { ...defaultComebackWindow, days: settings.comebackDays, km: settings.comebackKm },
  );
  if (!match && concern.comeback_of === null) return;
  // A word of the manager may already have decided what is now marked anew: the counts move back with it.
  const bound = [concern.comeback_of, match?.of.concernId].filter((id) => typeof id === 'string');
  await movingTally(desk.db, bound, () =>
    updateConcern(desk.db, concern.id, {
      comeback_of: match?.of.concernId ?? null,
      comeback_days: match?.daysBetween ?? null,
      comeback_km: match?.km ?? null,
      comeback_state: match ? 'in-doubt' : null,
      comeback_class: null,
      comeback_why: match?.why ?? null,
    }),
  );
}

const classOf = (text: string | null): ComebackClass | null =>
  comebackClasses.find((known) => known === text) ?? null;

/** Decides a return anew from how both concerns stand now. */
export async function decideReturn(desk: Desk, secondId: string): Promise<void> {
  const second = await findConcern(desk.db, secondId);
  if (!second || second.comeback_of === null) return;
  const first = await ledgerConcern(desk.db, second.comeback_of);
  if (!first) return;
  const hadParts = (await partsOf(desk.db, second.comeback_of)).length > 0;
  const decision = decideComeback(
    first,
    await ledgerConcern(desk.db, secondId),
    classOf(second.comeback_class),
    hadParts,
  );
  await updateConcern(desk.db, secondId, { comeback_state: decision.state, comeback_why: decision.why });
}

/** The concern, what it came back from, and what came back from it: all whose counts may move together. */
export async function boundTogether(desk: Desk, concern: ConcernRow): Promise<string[]> {
  const later = await comebacksOf(desk.db, concern.id);
  return [
    concern.id,
    ...(concern.comeback_of === null ? [] : [concern.comeback_of]),
    ...later.map((row) => row.id),
  ];
}

/** Decides the return that this concern is, and those that came back from it. */
export async function decideAround(desk: Desk, concern: ConcernRow): Promise<void> {
  await decideReturn(desk, concern.id);
  for (const later of await comebacksOf(desk.db, concern.id)) await decideReturn(desk, later.id);
}

export async function classifyComeback(desk: Desk, input: ParsedInputOf<'jobs.classify'>): Promise<JobView> {
  return changeCard(desk, input.jobId, input.ifVersion, async (card) => {
    const concern = concernOf(card, input.concernId);
    if (concern.comeback_of === null)
      throw new Problem('not-allowed-now', 'This concern is not marked as a comeback.', {
        field: 'concernId',
      });
    await movingTally(desk.db, await boundTogether(desk, concern), async () => {
      await updateConcern(desk.db, concern.id, { comeback_class: input.as });
      await decideReturn(desk, concern.id);
    });
    return {};
  });
}
