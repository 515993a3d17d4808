import type { ConcernView, InputOf, JobView } from '../../api/contract.ts';
import { howWords, statusWords, urgencyWords } from '../words/labels.ts';
import { moneyWords } from '../words/money.ts';
import { whenWords } from '../words/time.ts';
import { kilometers } from '../words/units.ts';

/** The writes that answer with the whole card. */
export type JobWrite =
  | 'jobs.update'
  | 'jobs.addConcern'
  | 'jobs.editConcern'
  | 'jobs.record'
  | 'jobs.skip'
  | 'jobs.undo'
  | 'jobs.approve'
  | 'jobs.advise'
  | 'jobs.settleAdvisory'
  | 'jobs.close'
  | 'jobs.reopen'
  | 'jobs.classify';

/** A write as the screens make it: the job and the version are added on the way. */
export type CardInput<N extends JobWrite> = N extends JobWrite
  ? Omit<InputOf<N>, 'jobId' | 'ifVersion'>
  : never;

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
const concernAt = (job: JobView, id: unknown): ConcernView | undefined =>
  job.concerns.find(({ concernId }) => concernId === id);
const advisoryAt = (job: JobView, id: unknown): JobView['advisories'][number] | undefined =>
  [...job.advisories, ...job.earlierAdvisories].find(({ advisoryId }) => advisoryId === id);

/** What a concern was decided by; its place in the comeback of another visit may move meanwhile. */
const decidedBy = (concern: ConcernView | undefined): unknown =>
  concern && [
    concern.words,
    concern.symptomId,
    concern.state,
    concern.readings,
    concern.closing,
    concern.comeback?.classified,
  ];

/**
 * Whether a change that was made from one card still means the same on a later one: what it touches, or was decided by,
 * stands on both the same.
 */
export function stillHolds(name: JobWrite, input: object, before: JobView, after: JobView): boolean {
  if ('set' in input && typeof input.set === 'object' && input.set !== null)
    return (Object.entries(input.set) as [keyof JobView, unknown][]).every(([field, value]) =>
      // Of the consent only the lines that are set: two hands may each ask for another one.
      field === 'consent' && typeof value === 'object' && value !== null
        ? (Object.keys(value) as (keyof JobView['consent'])[]).every((line) =>
            same(before.consent[line], after.consent[line]),
          )
        : same(before[field], after[field]),
    );
  if (name === 'jobs.addConcern') return same(before.concerns.length, after.concerns.length);
  if (name === 'jobs.advise') return same(before.advisories, after.advisories);
  if (name === 'jobs.approve') return same(before.approvals, after.approvals);
  if ('advisoryId' in input)
    return same(advisoryAt(before, input.advisoryId), advisoryAt(after, input.advisoryId));
  if ('concernId' in input) {
    const [was, is] = [concernAt(before, input.concernId), concernAt(after, input.concernId)];
    return was !== undefined && is !== undefined && same(decidedBy(was), decidedBy(is));
  }
  return false;
}

const quoted = (text: string | null): string => (text ? `“${text}”` : 'empty');

function fieldChanges(before: JobView, after: JobView): string[] {
  const lines: [keyof JobView, string][] = [
    ['status', `the status is now ${statusWords[after.status]}`],
    ['promiseAt', `promised for ${after.promiseAt ? whenWords(after.promiseAt) : 'no time any more'}`],
    [
      'mileage_km',
      `the mileage is now ${after.mileage_km === null ? 'empty' : kilometers(after.mileage_km)}`,
    ],
    ['keyTag', `the key tag is now ${quoted(after.keyTag)}`],
    ['technician', `the technician is now ${quoted(after.technician)}`],
    ['note', `the note is now ${quoted(after.note)}`],
    ['consent', 'what the customer agreed to was changed'],
  ];
  return lines.flatMap(([field, words]) => (same(before[field], after[field]) ? [] : [words]));
}

function concernChanges(was: ConcernView | undefined, is: ConcernView): string[] {
  if (!was) return [`a complaint was added: “${is.words}”`];
  const about = is.symptom ?? `“${is.words}”`;
  const had = new Set(was.readings.map(({ readingId }) => readingId));
  const has = new Set(is.readings.map(({ readingId }) => readingId));
  return [
    ...(was.words === is.words ? [] : [`the words are now “${is.words}”`]),
    ...(was.symptomId === is.symptomId
      ? []
      : [`the symptom of “${is.words}” is now ${is.symptom ?? 'open'}`]),
    ...is.readings
      .filter(({ readingId }) => !had.has(readingId))
      .map(({ title, shows }) => `recorded: ${title}, ${shows}`),
    ...was.readings.filter(({ readingId }) => !has.has(readingId)).map(({ title }) => `taken back: ${title}`),
    ...(was.state === is.state
      ? []
      : [is.state === 'closed' ? `${about} was closed` : `${about} was opened again`]),
    ...(was.state === is.state && !same(was.closing, is.closing) ? [`how ${about} was closed`] : []),
    ...(same(was.comeback?.classified, is.comeback?.classified) ? [] : [`what kind of comeback ${about} is`]),
  ];
}

/** What is different on the later card, in the order of the card; each a clause without a stop. */
export function whatChanged(before: JobView, after: JobView): string[] {
  const approved = new Set(before.approvals.map(({ approvalId }) => approvalId));
  return [
    ...fieldChanges(before, after),
    ...after.concerns.flatMap((is) => concernChanges(concernAt(before, is.concernId), is)),
    ...[...after.advisories, ...after.earlierAdvisories].flatMap((is) => {
      const was = advisoryAt(before, is.advisoryId);
      if (!was) return [`an advisory was added: ${urgencyWords[is.urgency]}, “${is.words}”`];
      const now = { open: 'open again', settled: 'done', declined: 'declined' }[is.state];
      return was.state === is.state ? [] : [`the advisory “${is.words}” is now ${now}`];
    }),
    ...after.approvals
      .filter(({ approvalId }) => !approved.has(approvalId))
      .map(({ amount, who, how }) => `${who} approved ${moneyWords(amount)} ${howWords[how]}`),
  ];
}

/** The conflict as it is told to the person whose change was not saved. */
export function conflictWords(before: JobView, after: JobView): { message: string; next: string } {
  const changes = whatChanged(before, after);
  const what = changes.length > 0 ? `: ${changes.join('; ')}` : '';
  return {
    message: `Somebody else changed this card meanwhile${what}.`,
    next: 'Your last step was not saved; what you typed still stands in its field. Look at the card, and do it again if it still holds.',
  };
}
