import { Link } from 'react-router';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { countWords, minutesWords } from '../words/units.ts';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';

type Row = OutputOf<'patterns.checks'>['rows'][number];

const columns: Column<Row>[] = [
  { title: 'Check', shows: (row) => <Link to={`/handbook/check/${row.checkId}`}>{row.title}</Link> },
  { title: 'Always shows', shows: (row) => row.answer },
  { title: 'Times', shows: (row) => row.times, isNumber: true },
  {
    title: 'Minutes in all',
    shows: (row) => (row.minutes === null ? '' : minutesWords(row.minutes)),
    isNumber: true,
  },
];

/** Checks that never told anything apart. */
export function SilentChecks({ input }: { input: InputOf<'patterns.checks'> }) {
  const found = useRead('patterns.checks', input, { keep: true, stale: 60_000 });
  const { data } = found;
  return (
    <>
      <h2>Checks that never separate anything</h2>
      <ProblemNote problem={found.error} />
      {data ? (
        <p className={styles.soft}>
          {data.done === 0
            ? 'No check was recorded on the jobs of this period.'
            : `${countWords(data.done, 'check')} recorded, ${data.judged} of them at least ten times. ${
                data.rows.length === 0
                  ? 'None gave the same answer every time.'
                  : 'These gave the same answer every time, so they told no causes apart:'
              }`}
        </p>
      ) : null}
      {data && data.rows.length > 0 ? (
        <ReportTable
          caption="Checks with one answer only"
          columns={columns}
          rows={data.rows}
          keyOf={(row) => row.checkId}
        />
      ) : null}
    </>
  );
}
