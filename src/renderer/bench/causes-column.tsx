import type { ConcernView, Ranking } from '../../api/contract.ts';
import { CauseList } from '../causes/cause-list.tsx';
import { JobPartsLink } from '../parts/job-parts-link.tsx';
import { Button } from '../pieces/button.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { say } from '../session/notices.ts';
import { comebackStates, statusWords } from '../words/labels.ts';
import { isPast, whenWords } from '../words/time.ts';
import { kilometers } from '../words/units.ts';
import styles from './causes-column.module.css';
import { ConcernTabs } from './concern-tabs.tsx';
import type { JobDesk } from './use-job.ts';

interface Props {
  desk: JobDesk;
  concern: ConcernView;
  ranking: Ranking | null;
  isPending: boolean;
  onConcern: (concernId: string) => void;
  onCard: () => void;
  onKnown: (causeId: string) => void;
}

/** The machine goes home: one press, with a way back. */
async function handOver(desk: JobDesk): Promise<void> {
  const after = await desk.run('jobs.update', { set: { status: 'collected' } });
  if (after)
    say(`Job ${after.number} is collected.`, {
      label: 'Undo',
      run: () => void desk.run('jobs.update', { set: { status: 'ready' } }),
    });
}

function JobFacts({ desk, concern }: Pick<Props, 'desk' | 'concern'>) {
  const { job } = desk;
  const { vehicle } = job;
  const model = vehicle ? `${vehicle.modelTitle}${vehicle.year ? ` (${vehicle.year})` : ''}` : 'no vehicle';
  const isLate =
    job.promiseAt !== null && job.status !== 'ready' && job.status !== 'collected' && isPast(job.promiseAt);
  return (
    <div className={styles.job}>
      <p>
        Job <b>{job.number}</b> · {vehicle?.plate ? <b>{vehicle.plate}</b> : null} {model}
        {job.mileage_km === null ? '' : ` · ${kilometers(job.mileage_km)}`}
      </p>
      <p>
        {statusWords[job.status]}
        {job.promiseAt ? ` · promised ${whenWords(job.promiseAt)}` : ''}
        {isLate ? <b> (late)</b> : null}
        {job.keyTag ? ` · key ${job.keyTag}` : ''}
      </p>
      <p className={styles.said}>“{concern.words}”</p>
      <JobPartsLink number={job.number} jobId={job.jobId} />
      {job.doNotRide ? <DoNotRide /> : null}
      {job.status === 'ready' ? (
        <Button disabled={desk.isBusy} onClick={() => void handOver(desk)}>
          Collected by the customer
        </Button>
      ) : null}
      {concern.comeback ? (
        <p className={styles.comeback}>
          <b>Came back</b> after {concern.comeback.daysBetween} days (job {concern.comeback.ofJobNumber}):{' '}
          {comebackStates[concern.comeback.state]}.
        </p>
      ) : null}
    </div>
  );
}

/** Left: the job in two lines, and what it could be. */
export function CausesColumn({ desk, concern, ranking, isPending, onConcern, onCard, onKnown }: Props) {
  return (
    <section className={styles.column} aria-label="What it could be">
      <ColumnTitle
        right={
          <Button size="row" onClick={onCard} className={styles.open}>
            Job card
          </Button>
        }
      >
        What it could be
      </ColumnTitle>
      <ConcernTabs concerns={desk.job.concerns} chosen={concern.concernId} onChoose={onConcern} />
      <JobFacts desk={desk} concern={concern} />
      {concern.symptomId === null ? (
        <Empty title="No symptom yet.">Pick one in the middle; then the causes come up.</Empty>
      ) : null}
      {concern.symptomId !== null && isPending ? <Waiting what="Ranking the causes" /> : null}
      {ranking ? (
        <>
          <p className={styles.from}>
            {desk.job.concerns.length > 1 ? '' : `${concern.symptom} · `}
            {ranking.from}
          </p>
          <CauseList
            ranking={ranking}
            first={6}
            {...(concern.state === 'open'
              ? {
                  onPick: (cause: { causeId: string }) => onKnown(cause.causeId),
                  pickWords: (cause: { title: string }) => `I know it: close with “${cause.title}”`,
                }
              : {})}
          />
        </>
      ) : null}
    </section>
  );
}
