import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { useReport } from '../session/use-report.ts';
import { countWords } from '../words/units.ts';
import { FilterNote } from './filter-note.tsx';
import { MachinePick } from './machine-pick.tsx';
import { MonthChart } from './month-chart.tsx';
import { Pick } from './pick.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { ReportWait } from './report-wait.tsx';
import { chanceWords, monthNames, monthText, short } from './report-words.ts';
import { useFilters } from './use-filters.ts';
import { YearChart } from './year-chart.tsx';

type Trend = OutputOf<'patterns.trend'>;
const spans = ['36', '12', '24', '60', '120'] as const;

/** The days of a month as the address of the jobs has them. */
function daysOf(month: string): { from: string; until: string } {
  const [year, number] = month.split('-').map(Number) as [number, number];
  return { from: `${month}-01`, until: new Date(Date.UTC(year, number, 0)).toISOString().slice(0, 10) };
}

const columnsFor = (search: Readonly<Record<string, string>>): Column<Trend['months'][number]>[] => [
  {
    title: 'Month',
    shows: (row) => (
      <>
        {row.concerns === 0 ? (
          monthText(row.month)
        ) : (
          <Link to={`/office/jobs?${new URLSearchParams({ ...search, ...daysOf(row.month) })}`}>
            {monthText(row.month)}
          </Link>
        )}
        {row.isPartial ? ' (not whole)' : ''}
      </>
    ),
  },
  { title: 'Concerns', shows: (row) => row.concerns, isNumber: true },
  { title: 'Visits', shows: (row) => row.visits, isNumber: true },
  {
    title: 'Per 100 visits',
    shows: (row) => (row.per100 === null ? 'no visits' : short(row.per100)),
    isNumber: true,
  },
  {
    title: 'Limits',
    shows: (row) => (row.low === null || row.high === null ? '' : `${short(row.low)}–${short(row.high)}`),
    isNumber: true,
  },
  { title: 'Outside', shows: (row) => (row.isOut ? 'outside' : '') },
];

const yearColumns: Column<Trend['year'][number]>[] = [
  { title: 'Month', shows: (row) => monthNames[row.month - 1] },
  { title: 'Concerns', shows: (row) => row.concerns.toLocaleString('en-US'), isNumber: true },
  { title: 'Visits', shows: (row) => row.visits.toLocaleString('en-US'), isNumber: true },
  {
    title: 'Per 100 visits',
    shows: (row) => (row.per100 === null ? 'no visits' : short(row.per100)),
    isNumber: true,
  },
];

function Words({ trend }: { trend: Trend }) {
  const { laplace, halves } = trend;
  const direction = laplace && laplace.z > 0 ? 'closer together' : 'farther apart';
  return (
    <>
      <p className={styles.lead}>{trend.says}</p>
      {laplace ? (
        <p>
          {laplace.p <= 0.05
            ? `Counted in visits, the closings come ever ${direction} (Laplace's test; by chance in ${chanceWords(laplace.p)} of cases).`
            : "No trend in time beyond chance (Laplace's test)."}{' '}
          {trend.powerLaw ? `Power law: shape ${trend.powerLaw.shape.toFixed(2)}.` : ''}
        </p>
      ) : null}
      {halves ? (
        <p>
          Newer half: {halves.newer.concerns.toLocaleString('en-US')} in{' '}
          {countWords(halves.newer.visits, 'visit')}; older half:{' '}
          {halves.older.concerns.toLocaleString('en-US')} in {countWords(halves.older.visits, 'visit')}.{' '}
          {halves.change.p <= 0.05
            ? `So large a difference comes by chance in ${chanceWords(halves.change.p)} of cases.`
            : 'The difference is within chance.'}
        </p>
      ) : null}
    </>
  );
}

/** Concerns month by month. */
export function MonthsPage() {
  const filters = useFilters();
  const months = filters.oneOf('months', spans);
  const modelId = filters.slug('model');
  const componentId = filters.slug('component');
  const components = useRead(
    'patterns.recurring',
    { by: 'component', days: 36_600, against: 'none', limit: 500 },
    { keep: true, stale: 60_000 },
  );
  const input = {
    months: Number(months),
    ...(modelId ? { modelId } : {}),
    ...(componentId ? { componentId } : {}),
  };
  const trend = useReport('patterns.trend', input);
  return (
    <>
      <h1>Month by month</h1>
      <div className={styles.filters}>
        <Pick
          label="Months"
          value={months}
          choices={spans.map((value) => ({ value, title: `the last ${value}` }))}
          onPick={(value) => filters.set({ months: value })}
        />
        <MachinePick
          filters={filters}
          modelId={modelId}
          componentId={componentId}
          components={components.data?.groups}
        />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={trend} what="Counting the months" />
      <ProblemNote problem={trend.error} onRetry={() => void trend.refetch()} />
      {trend.data?.remark ? <Empty title={trend.data.remark} /> : null}
      {trend.data && !trend.data.remark ? (
        <>
          <Words trend={trend.data} />
          <div className={styles.beside}>
            <MonthChart trend={trend.data} />
            <ReportTable
              caption={`${trend.data.title}, month by month`}
              columns={columnsFor({
                ...(modelId ? { model: modelId } : {}),
                ...(componentId ? { component: componentId } : {}),
              })}
              rows={trend.data.months}
              keyOf={(row) => row.month}
              file={{ of: 'months', input }}
            />
          </div>
          <h2>Through the year</h2>
          <p className={styles.soft}>
            The same months of all these years together, whole months only: what the first cold weeks and the
            spring bring.
          </p>
          <div className={styles.beside}>
            <YearChart year={trend.data.year} title={trend.data.title} />
            <ReportTable
              caption={`${trend.data.title}, through the year`}
              columns={yearColumns}
              rows={trend.data.year}
              keyOf={(row) => String(row.month)}
            />
          </div>
        </>
      ) : null}
    </>
  );
}
