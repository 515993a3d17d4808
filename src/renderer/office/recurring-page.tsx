import { recurringBy } from '../../api/contract.ts';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { dayWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import { ParetoChart } from './pareto-chart.tsx';
import { Pick, periodDays, periods } from './pick.tsx';
import { RecurringTable } from './recurring-table.tsx';
import styles from './report.module.css';
import { byWords } from './report-words.ts';
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
  const days = filters.oneOf('days', periodDays);
  const against = filters.oneOf(
    'against',
    comparisons.map((one) => one.value),
  );
  const modelId = filters.slug('model');
  const componentId = filters.slug('component');
  const models = useRead('models.list', {}, { stale: 600_000 });
  const parts = useRead('patterns.recurring', {
    by: 'component',
    days: Number(days),
    against: 'none',
    limit: 200,
  });
  const report = useRead(
    'patterns.recurring',
    {
      by,
      days: Number(days),
      against,
      ...(modelId ? { modelId } : {}),
      ...(componentId ? { componentId } : {}),
    },
    { keep: true, stale: 60_000 },
  );
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
        <Pick
          label="Period"
          value={days}
          choices={periods}
          onPick={(value) => filters.set({ days: value })}
        />
        <Pick
          label="Compared with"
          value={against}
          choices={comparisons}
          onPick={(value) => filters.set({ against: value })}
        />
        <Pick
          label="Model"
          value={modelId ?? ''}
          choices={[
            { value: '', title: 'Every model' },
            ...(models.data?.models ?? []).map((model) => ({
              value: model.modelId,
              title: `${model.maker} ${model.name}`,
            })),
          ]}
          onPick={(value) => filters.set({ model: value })}
        />
        <Pick
          label="Component"
          value={componentId ?? ''}
          choices={[
            { value: '', title: 'Every component' },
            ...(parts.data?.groups ?? [])
              .filter((group) => group.key !== '')
              .map((group) => ({ value: group.key, title: group.title })),
          ]}
          onPick={(value) => filters.set({ component: value })}
        />
      </div>
      {report.isPending ? <Waiting what="Counting the ledger" /> : null}
      <ProblemNote problem={report.error} onRetry={() => void report.refetch()} />
      {data ? (
        <>
          <p className={styles.soft}>
            {countWords(data.period.visits, 'visit')} from {dayWords(data.period.from)} to{' '}
            {dayWords(data.period.until)}
            {data.before ? `, compared with ${countWords(data.before.visits, 'visit')} before` : ''}. Rates
            stand where there are at least five concerns in twenty visits; smaller numbers are shown as they
            are.
          </p>
          {data.remark ? <Empty title={data.remark} /> : null}
          {data.groups.length === 0 && !data.remark ? (
            <Empty title="Nothing was proven for this choice in this period.">Choose a longer period.</Empty>
          ) : null}
          {data.groups.length > 0 ? (
            <div className={styles.beside}>
              <ParetoChart rows={data.groups} caption={`Concerns by ${byWords[by].toLowerCase()}`} />
              <RecurringTable by={by} groups={data.groups} per={data.per} file={`recurring-${by}`} />
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
