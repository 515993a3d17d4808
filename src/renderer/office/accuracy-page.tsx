import { Link } from 'react-router';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useReport } from '../session/use-report.ts';
import { dayWords } from '../words/time.ts';
import { countWords, minutesWords, percent } from '../words/units.ts';
import { AdviceList } from './advice-list.tsx';
import { CalibrationChart } from './calibration-chart.tsx';
import { FilterNote } from './filter-note.tsx';
import { readPeriod } from './period.ts';
import { PeriodPick } from './period-pick.tsx';
import { QuotedPart } from './quoted-part.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { ReportWait } from './report-wait.tsx';
import { SilentChecks } from './silent-checks.tsx';
import { TakenBack } from './taken-back.tsx';
import { useFilters } from './use-filters.ts';

type Accuracy = OutputOf<'patterns.accuracy'>;
const usual = '1095';

/** Fewer rankings than these are shown as numbers, not as a share. */
const few = 20;

/** A share as one large figure with how sure it is below; few as the numbers they are. */
function HeldFigure({ held, of, share, low, high }: Accuracy['first']) {
  if (of < few)
    return (
      <b>
        {held} of {of}
      </b>
    );
  return (
    <>
      <b>{percent(share)}</b>
      <span className={styles.below}>
        between {percent(low)} and {percent(high)}
      </span>
    </>
  );
}

const binColumns: Column<Accuracy['bins'][number]>[] = [
  { title: 'Chance shown', shows: (bin) => `${percent(bin.from)}–${percent(bin.to)}` },
  { title: 'Mean chance', shows: (bin) => percent(bin.meanChance), isNumber: true },
  { title: 'Causes shown', shows: (bin) => bin.shown.toLocaleString('en-US'), isNumber: true },
  { title: 'Held', shows: (bin) => bin.held.toLocaleString('en-US'), isNumber: true },
  {
    title: 'Share that held (95 %)',
    shows: (bin) =>
      bin.shown < few
        ? `${bin.held} of ${bin.shown}`
        : `${percent(bin.share)} (${percent(bin.low)}–${percent(bin.high)})`,
    isNumber: true,
  },
];

const minuteColumns: Column<Accuracy['minutes']['causes'][number]>[] = [
  { title: 'Cause', shows: (row) => row.cause },
  { title: 'Concerns', shows: (row) => row.concerns, isNumber: true },
  { title: 'Planned, mean', shows: (row) => minutesWords(row.planned), isNumber: true },
  { title: 'Actual, mean', shows: (row) => minutesWords(row.actual), isNumber: true },
];

const lackingColumns: Column<Accuracy['lacking'][number]>[] = [
  { title: 'In words', shows: (row) => row.words },
  { title: 'Times', shows: (row) => row.times, isNumber: true },
  {
    title: 'Jobs',
    shows: (row) => (
      <span className={styles.jobs}>
        {row.jobNumbers.map((number) => (
          <Link key={number} to={`/bench/${number}`}>
            {number}
          </Link>
        ))}
      </span>
    ),
  },
];

function Score({ score }: { score: Accuracy['score'] }) {
  if (!score)
    return <p className={styles.soft}>Too few rankings yet to score the book against plain frequency.</p>;
  const isBetter = score.shown < score.frequency;
  return (
    <p>
      On the {countWords(score.rankings, 'job')} since {dayWords(score.since)} the book was surprised by{' '}
      {score.shown.toFixed(2)} on average; plain frequency of the jobs before would have been surprised by{' '}
      {score.frequency.toFixed(2)}. {isBetter ? 'The book knew better.' : 'Plain frequency knew better.'}{' '}
      <span className={styles.soft}>(Log score in natural logarithms; less is better.)</span>
    </p>
  );
}

function Answer({ data, input }: { data: Accuracy; input: InputOf<'patterns.accuracy'> }) {
  return (
    <>
      <div className={styles.numbers}>
        <div>
          <HeldFigure {...data.first} /> the first cause shown was it
        </div>
        <div>
          <HeldFigure {...data.firstThree} /> one of the first three was it
        </div>
        <div>
          <b>{data.rankings.toLocaleString('en-US')}</b> rankings shown when a job came in
        </div>
      </div>
      <Score score={data.score} />
      {data.bins.length > 0 ? (
        <>
          <h2>Does a chance mean what it says</h2>
          <div className={styles.beside}>
            <CalibrationChart bins={data.bins} />
            <ReportTable
              caption="Calibration"
              columns={binColumns}
              rows={data.bins}
              keyOf={(bin) => String(bin.from)}
              file={{ of: 'calibration', input }}
            />
          </div>
        </>
      ) : null}
      <AdviceList input={input} />
      <TakenBack input={input} />
      <h2>Minutes, planned and actual</h2>
      {data.minutes.concerns === 0 ? (
        <p className={styles.soft}>No closed concern has both planned and actual minutes yet.</p>
      ) : (
        <>
          <p>
            {countWords(data.minutes.concerns, 'concern')}: planned {minutesWords(data.minutes.planned)},
            actual {minutesWords(data.minutes.actual)}. Below, the causes that miss by most time in all.
          </p>
          <ReportTable
            caption="Planned and actual minutes"
            columns={minuteColumns}
            rows={data.minutes.causes}
            keyOf={(row) => row.causeId}
            file={{ of: 'minutes', input }}
          />
        </>
      )}
      <SilentChecks input={input} />
      <h2>Proven here, but not in the book</h2>
      {data.lacking.length === 0 ? (
        <p className={styles.soft}>Every proven cause of this period is in the book.</p>
      ) : (
        <ReportTable
          caption="Causes that the book lacks"
          columns={lackingColumns}
          rows={data.lacking}
          keyOf={(row) => row.words}
          file={{ of: 'lacking', input }}
        />
      )}
    </>
  );
}

/** Whether the book was right about what it showed. */
export function AccuracyPage() {
  const filters = useFilters();
  const period = readPeriod(filters, usual);
  const report = useReport('patterns.accuracy', period.input);
  return (
    <>
      <h1>Is the book right</h1>
      <div className={styles.filters}>
        <PeriodPick filters={filters} period={period} usual={usual} />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={report} what="Comparing what was shown with what was proven" />
      <ProblemNote problem={report.error} onRetry={() => void report.refetch()} />
      {report.data?.remark ? <Empty title={report.data.remark} /> : null}
      {report.data && report.data.rankings > 0 ? <Answer data={report.data} input={period.input} /> : null}
      {report.data ? <QuotedPart input={period.input} /> : null}
    </>
  );
}
