import type { ComebackGroupView, CurveStep, OutputOf } from '../../api/contract.ts';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { countWords, percent } from '../words/units.ts';
import { HoldingChart } from './holding-chart.tsx';
import { Pick, periodDays, periods } from './pick.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { chanceWords } from './report-words.ts';
import { useFilters } from './use-filters.ts';

const groupings = [
  { value: 'part-kind-and-supplier', title: 'Kind of part and supplier' },
  { value: 'part-kind', title: 'Kind of part' },
  { value: 'supplier', title: 'Supplier' },
  { value: 'cause', title: 'Cause' },
] as const;
const days = ['1095', ...periodDays.filter((each) => each !== '1095')];

function groupColumns(show: (group: ComebackGroupView) => void): Column<ComebackGroupView>[] {
  return [
    {
      title: 'Repairs of',
      text: (group) => group.title,
      shows: (group) => (
        <button type="button" className={styles.asLink} onClick={() => show(group)}>
          {group.title}
        </button>
      ),
    },
    { title: 'Repairs', text: (group) => group.repairs, isNumber: true },
    { title: 'Did not hold', text: (group) => group.didNotHold, isNumber: true },
    {
      title: 'Share (95 %)',
      text: (group) =>
        group.rate
          ? `${percent(group.rate.share)} (${percent(group.rate.low)}–${percent(group.rate.high)})`
          : `${group.didNotHold} of ${group.repairs}`,
      isNumber: true,
    },
    {
      title: 'The rest',
      text: (group) => `${group.rest.didNotHold} of ${group.rest.repairs}`,
      isNumber: true,
    },
    { title: 'Another cause', text: (group) => group.wrongDiagnosis, isNumber: true },
    { title: 'In doubt', text: (group) => group.inDoubt, isNumber: true },
    {
      title: 'By chance',
      text: (group) => (group.falseShare <= 0.05 ? chanceWords(group.falseShare) : 'within chance'),
    },
  ];
}

interface CurveRow extends CurveStep {
  readonly of: string;
}
const curveColumns: Column<CurveRow>[] = [
  { title: 'Repairs', text: (row) => row.of },
  { title: 'After, days', text: (row) => row.days, isNumber: true },
  { title: 'In sight', text: (row) => row.atRisk, isNumber: true },
  { title: 'Came back', text: (row) => row.events, isNumber: true },
  { title: 'Still hold', text: (row) => percent(row.lasts), isNumber: true },
];

function Curves({ data }: { data: OutputOf<'patterns.comebacks'> }) {
  const { curves } = data;
  const rows = [
    ...curves.chosen.map((step) => ({ ...step, of: curves.title })),
    ...curves.rest.map((step) => ({ ...step, of: curves.restTitle ?? '' })),
  ];
  return (
    <>
      <h2>How long repairs hold: {curves.title}</h2>
      {curves.chosenRepairs === 0 ? <Empty title="No proven repair for this choice." /> : null}
      {curves.chosenRepairs > 0 ? (
        <div className={styles.beside}>
          <HoldingChart {...curves} windowDays={data.windowDays} />
          <ReportTable
            caption="Still holding after each return"
            columns={curveColumns}
            rows={rows}
            keyOf={(row) => `${row.of} ${row.days}`}
            file="repairs-that-hold"
          />
        </div>
      ) : null}
      <p className={styles.soft}>
        {countWords(curves.chosenRepairs, 'repair')}
        {curves.restTitle ? `, ${countWords(curves.restRepairs, 'repair')} of ${curves.restTitle}` : ''}. A
        repair that is not yet {data.windowDays} days old counts only as long as it was in sight.
        {curves.compared
          ? ` If both held alike, so large a difference would be seen in ${chanceWords(curves.compared.p)} of cases (log-rank test).`
          : ''}
      </p>
    </>
  );
}

/** Which repairs did not hold, and how long repairs hold. Parts and causes are compared, never people. */
export function ComebacksPage() {
  const filters = useFilters();
  const by = filters.oneOf(
    'by',
    groupings.map((one) => one.value),
  );
  const period = filters.oneOf('days', days);
  const partKind = filters.slug('partKind');
  const causeId = filters.slug('cause');
  const supplier = filters.get('supplier').trim().slice(0, 80);
  const report = useRead(
    'patterns.comebacks',
    {
      by,
      days: Number(period),
      ...(partKind ? { partKind } : {}),
      ...(causeId ? { causeId } : {}),
      ...(supplier ? { supplier } : {}),
    },
    { keep: true, stale: 60_000 },
  );
  const { data } = report;
  const show = (group: ComebackGroupView): void => {
    const [first = '', second = ''] = group.ids;
    filters.set({
      partKind: by === 'part-kind' || by === 'part-kind-and-supplier' ? first : '',
      supplier: by === 'supplier' ? first : by === 'part-kind-and-supplier' ? second : '',
      cause: by === 'cause' ? first : '',
    });
  };
  return (
    <>
      <h1>Did it hold</h1>
      <div className={styles.filters}>
        <Pick
          label="Count by"
          value={by}
          choices={groupings}
          onPick={(value) => filters.set({ by: value })}
        />
        <Pick
          label="Period"
          value={period}
          choices={days.flatMap((each) => periods.filter((one) => one.value === each))}
          onPick={(value) => filters.set({ days: value })}
        />
      </div>
      {report.isPending ? <Waiting what="Counting the comebacks" /> : null}
      <ProblemNote problem={report.error} onRetry={() => void report.refetch()} />
      {data?.remark ? <Empty title={data.remark} /> : null}
      {data && !data.remark ? (
        <>
          <div className={styles.numbers}>
            <div>
              <b>{data.repairs.toLocaleString('en-US')}</b> proven repairs
            </div>
            <div>
              <b>{data.didNotHold}</b> did not hold
            </div>
            <div>
              <b>{data.wrongDiagnosis}</b> had another cause
            </div>
            <div>
              <b>{data.inDoubt}</b> in doubt
            </div>
          </div>
          <ReportTable
            caption="Comebacks"
            columns={groupColumns(show)}
            rows={data.groups}
            keyOf={(group) => group.ids.join(' ')}
            file={`comebacks-${by}`}
          />
          <Curves data={data} />
        </>
      ) : null}
    </>
  );
}
