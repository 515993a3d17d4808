import { Link } from 'react-router';
import { type JobRow, type JobStatus, jobStatuses } from '../../api/contract.ts';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { statusWords, waitsOn } from '../words/labels.ts';
import { isPast, whenWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import styles from './day-page.module.css';
import { DayWaits } from './day-waits.tsx';

const open = jobStatuses.filter((status) => status !== 'collected');
const theirTurn: readonly JobStatus[] = [
  'awaiting-approval',
  'waiting-for-parts',
  'on-charge',
  'ready',
  'booked',
];

function JobLine({ job }: { job: JobRow }) {
  const isLate = job.promiseAt !== null && job.status !== 'ready' && isPast(job.promiseAt);
  return (
    <li className={styles.line}>
      <Link to={`/bench/${job.number}`}>{job.number}</Link>
      <span>
        <b>{job.plate ?? job.customer ?? 'no plate'}</b> {job.concerns.join(', ')}
        {job.comeback ? ' (came back)' : ''} {job.doNotRide ? <DoNotRide small /> : null}
      </span>
      <span className={styles.when}>
        {job.promiseAt ? whenWords(job.promiseAt) : 'no promise'}
        {isLate ? <b className={styles.late}> late</b> : null}
      </span>
    </li>
  );
}

function Group({ status, jobs }: { status: JobStatus; jobs: readonly JobRow[] }) {
  if (jobs.length === 0) return null;
  return (
    <section className={styles.group}>
      <h2>
        {statusWords[status]} <b>{jobs.length}</b>
      </h2>
      <p className={styles.soft}>{waitsOn[status]}</p>
      <ul>
        {jobs.map((job) => (
          <JobLine key={job.jobId} job={job} />
        ))}
      </ul>
    </section>
  );
}

const byPromise = (a: JobRow, b: JobRow): number =>
  (a.promiseAt ? Date.parse(a.promiseAt) : Number.POSITIVE_INFINITY) -
  (b.promiseAt ? Date.parse(b.promiseAt) : Number.POSITIVE_INFINITY);

/** Who waits on what, with promise times. */
export function DayPage() {
  const list = useRead('jobs.list', { statuses: open, limit: 500 });
  const status = useRead('shop.status', {});
  if (list.isPending) return <Waiting what="Looking over the day" />;
  if (list.isError) return <ProblemNote problem={list.error} onRetry={() => void list.refetch()} />;
  const jobs = [...list.data.jobs].sort(byPromise);
  const late = jobs.filter((job) => job.promiseAt && job.status !== 'ready' && isPast(job.promiseAt));
  const of = (each: JobStatus): JobRow[] => jobs.filter((job) => job.status === each);
  const ours = open.filter((each) => !theirTurn.includes(each));
  return (
    <>
      <h1>The day</h1>
      <p className={styles.sum}>
        {jobs.length > 0
          ? `${countWords(jobs.length, 'open job')}, ${late.length === 0 ? 'none late' : `${late.length} past the promised time`}, ${of('ready').length} ready to collect.`
          : ''}
        {status.data ? ` The book counts ${countWords(status.data.closedConcerns, 'closed concern')}.` : ''}
      </p>
      {jobs.length === 0 ? (
        <Empty title="No open job.">
          Take one in at the <Link to="/counter">Counter</Link>.
        </Empty>
      ) : null}
      <div className={styles.columns}>
        <div>
          <h2 className={styles.head}>Past the promised time</h2>
          {late.length === 0 ? <p className={styles.soft}>Nobody waits longer than promised.</p> : null}
          <ul>
            {late.map((job) => (
              <JobLine key={job.jobId} job={job} />
            ))}
          </ul>
        </div>
        <div>
          <h2 className={styles.head}>Our turn</h2>
          {ours.map((each) => (
            <Group key={each} status={each} jobs={of(each)} />
          ))}
          {ours.every((each) => of(each).length === 0) ? (
            <p className={styles.soft}>Nothing waits on us.</p>
          ) : null}
        </div>
        <div>
          <h2 className={styles.head}>Waiting on others</h2>
          {theirTurn.map((each) => (
            <Group key={each} status={each} jobs={of(each)} />
          ))}
          {theirTurn.every((each) => of(each).length === 0) ? (
            <p className={styles.soft}>Nothing waits on others.</p>
          ) : null}
        </div>
      </div>
      <DayWaits />
    </>
  );
}
