import { Link } from 'react-router';
import type { JobRow } from '../../api/contract.ts';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { isPast, whenWords } from '../words/time.ts';
import styles from './job-table.module.css';

function Promised({ job }: { job: JobRow }) {
  if (!job.promiseAt) return <span className={styles.soft}>no promise</span>;
  const isLate = job.status !== 'ready' && job.status !== 'collected' && isPast(job.promiseAt);
  return (
    <>
      {whenWords(job.promiseAt)}
      {isLate ? <b> late</b> : null}
    </>
  );
}

/** The jobs of one status. The whole row leads to the bench. */
export function JobTable({ title, jobs }: { title: string; jobs: readonly JobRow[] }) {
  return (
    <table className={styles.table}>
      <caption>
        {title} <span>{jobs.length}</span>
      </caption>
      <thead>
        <tr>
          <th scope="col">Job</th>
          <th scope="col">Machine</th>
          <th scope="col">Concerns</th>
          <th scope="col">Promised</th>
          <th scope="col">Technician</th>
          <th scope="col">Key</th>
        </tr>
      </thead>
      <tbody>
        {jobs.map((job) => (
          <tr key={job.jobId}>
            <th scope="row">
              <Link to={`/bench/${job.number}`}>{job.number}</Link>
            </th>
            <td>
              <b className={styles.plate}>{job.plate ?? 'no plate'}</b> {job.modelTitle}
              {job.customer ? <span className={styles.soft}> · {job.customer}</span> : null}
            </td>
            <td>
              {job.concerns.join(' · ')}
              {job.comeback ? <b> · came back</b> : null} {job.doNotRide ? <DoNotRide small /> : null}
            </td>
            <td>
              <Promised job={job} />
            </td>
            <td>{job.technician ?? <span className={styles.soft}>nobody yet</span>}</td>
            <td>{job.keyTag ?? ''}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
