import { Link } from 'react-router';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { moneyWords } from '../words/money.ts';
import { countWords, minutesWords, percent } from '../words/units.ts';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';

type Quoted = OutputOf<'patterns.quoted'>;
type Ratio = Quoted['minutesRatio'];

const few = 'few jobs';
/** The middle half of the jobs, in percent of what was quoted. */
const half = (ratio: Ratio): string =>
  ratio ? `${percent(ratio.median)} (${percent(ratio.low)}–${percent(ratio.high)})` : few;

const causeColumns: Column<Quoted['causes'][number]>[] = [
  { title: 'Cause', shows: (row) => row.cause, isName: true },
  { title: 'Jobs', shows: (row) => row.jobs, isNumber: true },
  { title: 'Quoted, mean', shows: (row) => minutesWords(row.quotedMinutes / row.jobs), isNumber: true },
  { title: 'Actual, mean', shows: (row) => minutesWords(row.actualMinutes / row.jobs), isNumber: true },
  { title: 'Minutes, of quoted', shows: (row) => half(row.minutesRatio), isNumber: true },
  { title: 'Money, of quoted', shows: (row) => half(row.moneyRatio), isNumber: true },
];

const jobColumns: Column<Quoted['furthest'][number]>[] = [
  { title: 'Job', shows: (row) => <Link to={`/bench/${row.jobNumber}/quote`}>{row.jobNumber}</Link> },
  { title: 'Cause', shows: (row) => row.cause ?? 'several, or not in the book', isName: true },
  { title: 'Time quoted', shows: (row) => minutesWords(row.quotedMinutes), isNumber: true },
  { title: 'Time booked', shows: (row) => minutesWords(row.actualMinutes), isNumber: true },
  { title: 'Money quoted', shows: (row) => moneyWords(row.quoted), isNumber: true },
  { title: 'Money booked', shows: (row) => moneyWords(row.actual), isNumber: true },
];

function Sums({ data }: { data: Quoted }) {
  return (
    <>
      <p>
        {countWords(data.jobs, 'job')} with an accepted quote: quoted {minutesWords(data.quotedMinutes)},
        actual {minutesWords(data.actualMinutes)}.{' '}
        {data.money
          .map(
            (one) => `Labor and parts quoted at ${moneyWords(one.quoted)}, booked ${moneyWords(one.actual)}`,
          )
          .join('; ')}
        , before tax and discounts.
      </p>
      {data.minutesRatio && data.moneyRatio ? (
        <p>
          Half of the jobs took between {percent(data.minutesRatio.low)} and {percent(data.minutesRatio.high)}{' '}
          of the quoted minutes, and between {percent(data.moneyRatio.low)} and{' '}
          {percent(data.moneyRatio.high)} of the quoted money.
        </p>
      ) : null}
    </>
  );
}

const leftWords = ({ noMinutes, severalCurrencies }: Quoted['left']): string =>
  [
    ...(noMinutes > 0 ? [`${countWords(noMinutes, 'job')} without booked minutes`] : []),
    ...(severalCurrencies > 0
      ? [`${countWords(severalCurrencies, 'job')} with quotes of several currencies`]
      : []),
  ].join(' and ');

/** What jobs took against what was quoted for them; about the quotes, not about people. */
export function QuotedPart({ input }: { input: InputOf<'patterns.quoted'> }) {
  const found = useRead('patterns.quoted', input, { keep: true, stale: 60_000 });
  const { data } = found;
  const left = data ? leftWords(data.left) : '';
  // The page has said already that there is nothing to count.
  if (data?.remark && data.jobs === 0) return null;
  return (
    <>
      <h2>Quoted and actual</h2>
      <ProblemNote problem={found.error} />
      {data?.remark && data.jobs > 0 ? <p className={styles.soft}>{data.remark}</p> : null}
      {data && data.jobs > 0 ? <Sums data={data} /> : null}
      {data?.jobs === 0 ? (
        <p className={styles.soft}>No closed job of this period has an accepted quote and booked minutes.</p>
      ) : null}
      {left === '' ? null : <p className={styles.soft}>Left out: {left}.</p>}
      {data && data.causes.length > 0 ? (
        <ReportTable
          caption="Quoted and actual by cause"
          columns={causeColumns}
          rows={data.causes}
          keyOf={(row) => row.causeId}
        />
      ) : null}
      {data && data.furthest.length > 0 ? (
        <>
          <h3>Jobs furthest from their quotes</h3>
          <ReportTable
            caption="Jobs furthest from their quotes"
            columns={jobColumns}
            rows={data.furthest}
            keyOf={(row) => String(row.jobNumber)}
            file={{ of: 'quoted', input }}
          />
        </>
      ) : null}
    </>
  );
}
