import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { countWords, percent } from '../words/units.ts';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { short } from './report-words.ts';

type Soon = OutputOf<'patterns.soon'>['rows'][number];

const columns: Column<Soon>[] = [
  { title: 'Kind of part', isName: true, shows: (row) => row.title },
  { title: 'Likely needed', shows: (row) => short(row.expected), isNumber: true },
  { title: 'Free', shows: (row) => row.free, isNumber: true },
  { title: 'On order', shows: (row) => row.onOrder, isNumber: true },
  {
    title: 'For',
    shows: (row) => (
      <span className={styles.jobs}>
        {row.jobs.map((job) => (
          <span key={`${job.number} ${job.cause}`}>
            <Link to={`/bench/${job.number}`}>{job.number}</Link> {job.cause}, {percent(job.chance)}
          </span>
        ))}
      </span>
    ),
  },
];

/** What the jobs that stand here now will likely need. */
export function PartsSoon() {
  const soon = useRead('patterns.soon', {}, { stale: 30_000 });
  const { data } = soon;
  return (
    <>
      <h2>What the open jobs will likely need</h2>
      <ProblemNote problem={soon.error} />
      {data && data.rows.length === 0 ? (
        <p className={styles.soft}>
          {data.concerns === 0 ? 'No concern is open.' : 'No open concern points to a part.'}
        </p>
      ) : null}
      {data && data.rows.length > 0 ? (
        <>
          <p className={styles.soft}>
            Of {countWords(data.concerns, 'open concern')}: each likely cause counts by the chance that was
            last shown.
          </p>
          <ReportTable
            caption="Parts that the open jobs will likely need"
            columns={columns}
            rows={data.rows}
            keyOf={(row) => row.kind}
          />
        </>
      ) : null}
    </>
  );
}
