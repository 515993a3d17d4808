import { useState } from 'react';
import { Link } from 'react-router';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { dayWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';

type Row = OutputOf<'patterns.takenBack'>['rows'][number];

const columns: Column<Row>[] = [
  {
    title: 'First job',
    shows: (row) => (
      <>
        <Link to={`/bench/${row.jobNumber}`}>{row.jobNumber}</Link>, {dayWords(row.closedAt)}
      </>
    ),
  },
  {
    title: 'Symptom',
    shows: (row) => (
      <>
        {row.symptom}
        <span className={styles.below}>{row.model}</span>
      </>
    ),
  },
  { title: 'Proven then', shows: (row) => row.causes.join('; ') },
  { title: 'After, days', shows: (row) => row.days ?? '', isNumber: true },
  {
    title: 'Proven later',
    shows: (row) => (
      <>
        {row.laterCauses.join('; ')}
        <span className={styles.below}>
          job <Link to={`/bench/${row.laterJobNumber}`}>{row.laterJobNumber}</Link>
        </span>
      </>
    ),
  },
];

/** So many are shown before they are asked for. */
const first = 8;

/** Which proven causes a comeback took back. */
export function TakenBack({ input }: { input: InputOf<'patterns.takenBack'> }) {
  const found = useRead('patterns.takenBack', { ...input, limit: 50 }, { keep: true, stale: 60_000 });
  const { data } = found;
  const [isWhole, setWhole] = useState(false);
  const rows = data ? (isWhole ? data.rows : data.rows.slice(0, first)) : [];
  return (
    <>
      <h2>Proven, and later taken back</h2>
      <ProblemNote problem={found.error} />
      {data && data.all === 0 ? (
        <p className={styles.soft}>No proven cause of this period was taken back.</p>
      ) : null}
      {data && data.rows.length > 0 ? (
        <>
          <p className={styles.soft}>
            {countWords(data.all, 'diagnosis', 'diagnoses')} of this period no longer count: the vehicle came
            back and something else was proven.
            {data.all > rows.length ? ` The newest ${rows.length} are shown.` : ''}
          </p>
          <ReportTable
            caption="Proven causes that were taken back"
            columns={columns}
            rows={rows}
            keyOf={(row) => `${row.jobNumber} ${row.laterJobNumber} ${row.symptom}`}
            file={{ of: 'taken-back', input }}
          />
          {rows.length < data.rows.length ? (
            <div className={styles.files}>
              <button type="button" className={styles.asLink} onClick={() => setWhole(true)}>
                Show {data.rows.length - rows.length} more
              </button>
            </div>
          ) : null}
        </>
      ) : null}
    </>
  );
}
