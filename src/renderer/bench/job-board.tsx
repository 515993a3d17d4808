import { useState } from 'react';
import { Link } from 'react-router';
import { type JobRow, type JobStatus, jobStatuses } from '../../api/contract.ts';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { statusWords } from '../words/labels.ts';
import styles from './job-board.module.css';
import { JobTable } from './job-table.tsx';

const openStatuses = jobStatuses.filter((status) => status !== 'collected');
/** Work in hand first, finished work last: the order a technician asks in. */
const order: readonly JobStatus[] = [
  'diagnosing',
  'in-work',
  'final-check',
  'checked-in',
  'on-charge',
  'awaiting-approval',
  'waiting-for-parts',
  'ready',
  'booked',
  'collected',
];

function groupsOf(jobs: readonly JobRow[]): { status: JobStatus; jobs: JobRow[] }[] {
  return order
    .map((status) => ({ status, jobs: jobs.filter((job) => job.status === status) }))
    .filter((group) => group.jobs.length > 0);
}

/** The board: every open job by status; a search also finds the collected ones. */
export function JobBoard() {
  const [status, setStatus] = useState<JobStatus | null>(null);
  const [text, setText] = useState('');
  const asked = useDelayed(text.trim());
  const statuses = status ? [status] : asked ? undefined : openStatuses;
  const list = useRead(
    'jobs.list',
    { ...(statuses ? { statuses: [...statuses] } : {}), ...(asked ? { text: asked } : {}), limit: 200 },
    { keep: true },
  );
  const counts = list.data?.counts ?? {};
  const openCount = openStatuses.reduce((sum, each) => sum + (counts[each] ?? 0), 0);
  return (
    <div className={styles.board}>
      <div className={styles.head}>
        <h1>Jobs</h1>
        <input
          type="search"
          aria-label="Search the jobs"
          placeholder="Search: plate, name, number, technician…"
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
      </div>
      <fieldset className={styles.filter} aria-label="Status">
        <button type="button" aria-pressed={status === null} onClick={() => setStatus(null)}>
          All open <b>{openCount}</b>
        </button>
        {jobStatuses.map((each) => (
          <button key={each} type="button" aria-pressed={status === each} onClick={() => setStatus(each)}>
            {statusWords[each]} <b>{counts[each] ?? 0}</b>
          </button>
        ))}
      </fieldset>
      <ProblemNote problem={list.error} onRetry={() => void list.refetch()} />
      {list.isPending ? <Waiting what="Getting the jobs" /> : null}
      {list.data && list.data.jobs.length === 0 ? (
        <Empty title={asked ? `No job fits “${asked}”.` : 'No job stands here.'}>
          {asked ? (
            'Try the plate without spaces, a part of the name, or the job number.'
          ) : (
            <>
              Take a scooter in at the <Link to="/counter">Counter</Link>; its card shows up here.
            </>
          )}
        </Empty>
      ) : null}
      {groupsOf(list.data?.jobs ?? []).map((group) => (
        <JobTable key={group.status} title={statusWords[group.status]} jobs={group.jobs} />
      ))}
    </div>
  );
}
