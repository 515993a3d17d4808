import { recurringBy } from '../../api/contract.ts';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { useReport } from '../session/use-report.ts';
import { dayWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import { FilterNote } from './filter-note.tsx';
import { MachinePick } from './machine-pick.tsx';
import { ParetoChart } from './pareto-chart.tsx';
import { readPeriod } from './period.ts';
import { PeriodPick } from './period-pick.tsx';
import { Pick } from './pick.tsx';
import { RecurringTable } from './recurring-table.tsx';
import styles from './report.module.css';
import { ReportWait } from './report-wait.tsx';
import { byWords, lastDayWords } from './report-words.ts';
import { useFilters } from './use-filters.ts';

const comparisons = [
  { value: 'before', title: 'the same time before it' },
  { value: 'year-before', title: 'the same days a year before' },
  { value: 'everything-before', title: 'everything before it' },
  { value: 'none', title: 'nothing' },
] as const;

/** Proven concerns by what a person wants to know, with the Pareto line and the change. */
export function RecurringPage() {
  const filters = useFilters();
  const by = filters.oneOf('by', recurringBy);
  const period = readPeriod(filters, '365');
  const against = filters.oneOf(
    'against',
    comparisons.map((one) => one.value),
  );
  const modelId = filters.slug('model');
  const componentId = filters.slug('component');
  const components = useRead(
    'patterns.recurring',
    { by: 'component', ...period.input, against: 'none', limit: 500 },
    { keep: true, stale: 60_000 },
  );
  const input = {
    by,
    ...period.input,
    against,
    ...(modelId ? { modelId } : {}),
    ...(componentId ? { componentId } : {}),
  };
  const report = useReport('patterns.recurring', input);
  const { data } = report;
  return (
    <>
      <h1>Recurring faults</h1>
      <div className={styles.filters}>
        <Pick
          label="Count by"
          value={by}
          choices={recurringBy.map((value) => ({ value, title: byWords[value] }))}
          onPick={(value) => filters.set({ by: value })}
        />
        <PeriodPick filters={filters} period={period} usual="365" />
        <Pick
          label="Compared with"
          value={against}
          choices={comparisons}
          onPick={(value) => filters.set({ against: value })}
        />
        <MachinePick
          filters={filters}
          modelId={modelId}
          componentId={componentId}
          components={components.data?.groups}
        />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={report} what="Counting the ledger" />
      <ProblemNote problem={report.error} onRetry={() => void report.refetch()} />
      {data ? (
        <>
          {data.period.visits > 0 ? (
            <p className={styles.soft}>
              {countWords(data.period.visits, 'visit')} of {countWords(data.period.vehicles, 'vehicle')} in
              care from {dayWords(data.period.from)} to {lastDayWords(data.period.until)}
              {data.before ? `, compared with ${countWords(data.before.visits, 'visit')} before` : ''}. Rates
              stand where there are at least five concerns in twenty visits; smaller numbers are shown as they
              are.
            </p>
          ) : null}
          {data.remark ? <Empty title={data.remark} /> : null}
          {data.groups.length === 0 && !data.remark ? (
            <Empty title="Nothing was proven for this choice in this period.">
              Choose a longer period, or see whether the address names the right model and part.
            </Empty>
          ) : null}
          {data.groups.length > 0 ? (
            <div className={styles.stacked}>
              {by === 'technician' ? (
                <p className={styles.soft}>
                  People stand in the order of their names and are not compared: what a job was depends on the
                  machine that came in, not on who took it.
                </p>
              ) : (
                <ParetoChart rows={data.groups} caption={`Concerns by ${byWords[by].toLowerCase()}`} />
              )}
              <RecurringTable
                by={by}
                groups={data.groups}
                per={data.per}
                file={{ of: 'recurring', input }}
                search={{
                  ...period.search,
                  ...(modelId ? { model: modelId } : {}),
                  ...(componentId ? { component: componentId } : {}),
                }}
              />
            </div>
          ) : null}
          {data.left.groups > 0 ? (
            <p className={styles.soft}>
              And {countWords(data.left.concerns, 'concern')} in{' '}
              {countWords(data.left.groups, 'smaller group')}.
            </p>
          ) : null}
        </>
      ) : null}
    </>
  );
}
