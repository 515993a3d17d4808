import type { ComebackGroupView, CurveStep, InputOf, OutputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useReport } from '../session/use-report.ts';
import { countWords, percent } from '../words/units.ts';
import { FilterNote } from './filter-note.tsx';
import { HoldingChart } from './holding-chart.tsx';
import { readPeriod } from './period.ts';
import { PeriodPick } from './period-pick.tsx';
import { Pick } from './pick.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { ReportWait } from './report-wait.tsx';
import { chanceWords } from './report-words.ts';
import { ReturnsTable } from './returns-table.tsx';
import { useFilters } from './use-filters.ts';

const groupings = [
  { value: 'part-kind-and-supplier', title: 'Kind of part and supplier' },
  { value: 'part-kind', title: 'Kind of part' },
  { value: 'supplier', title: 'Supplier' },
  { value: 'cause', title: 'Cause' },
] as const;
const usual = '1095';
/** Groups to read at a glance, the most striking first. */
const mostGroups = 12;

function groupColumns(show: (group: ComebackGroupView) => void): Column<ComebackGroupView>[] {
  return [
    {
      title: 'Repairs of',
      isName: true,
      shows: (group) => (
        <button type="button" className={styles.asLink} onClick={() => show(group)}>
          {group.title}
        </button>
      ),
    },
    { title: 'Repairs', shows: (group) => group.repairs, isNumber: true },
    { title: 'Did not hold', shows: (group) => group.didNotHold, isNumber: true },
    {
      title: 'Share (95 %)',
      shows: (group) =>
        group.rate
          ? `${percent(group.rate.share)} (${percent(group.rate.low)}–${percent(group.rate.high)})`
          : `${group.didNotHold} of ${group.repairs}`,
      isNumber: true,
    },
    {
      title: 'The rest',
      shows: (group) => `${group.rest.didNotHold} of ${group.rest.repairs}`,
      isNumber: true,
    },
    { title: 'Another cause', shows: (group) => group.wrongDiagnosis, isNumber: true },
    { title: 'In doubt', shows: (group) => group.inDoubt, isNumber: true },
    {
      title: 'By chance',
      shows: (group) => (group.falseShare <= 0.05 ? chanceWords(group.falseShare) : 'within chance'),
    },
  ];
}

interface CurveRow extends CurveStep {
  readonly of: string;
}
const curveColumns: Column<CurveRow>[] = [
  { title: 'Repairs', shows: (row) => row.of },
  { title: 'After, days', shows: (row) => row.days, isNumber: true },
  { title: 'In sight', shows: (row) => row.atRisk, isNumber: true },
  { title: 'Came back', shows: (row) => row.events, isNumber: true },
  { title: 'Still hold', shows: (row) => percent(row.lasts), isNumber: true },
];

function Curves({
  data,
  input,
}: {
  data: OutputOf<'patterns.comebacks'>;
  input: InputOf<'patterns.comebacks'>;
}) {
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
            file={{ of: 'holding', input }}
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
  const period = readPeriod(filters, usual);
  const partKind = filters.slug('partKind');
  const causeId = filters.slug('cause');
  const supplier = filters.get('supplier').trim().slice(0, 80);
  const input = {
    by,
    ...period.input,
    ...(partKind ? { partKind } : {}),
    ...(causeId ? { causeId } : {}),
    ...(supplier ? { supplier } : {}),
  };
  const isWhole = filters.oneOf('groups', ['most', 'all']) === 'all';
  const report = useReport('patterns.comebacks', { ...input, limit: isWhole ? 500 : mostGroups });
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
        <PeriodPick filters={filters} period={period} usual={usual} />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={report} what="Counting the comebacks" />
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
            file={{ of: 'comebacks', input }}
          />
          {data.groups.length === mostGroups || isWhole ? (
            <Button
              size="row"
              className={styles.start}
              onClick={() => filters.set({ groups: isWhole ? '' : 'all' })}
            >
              {isWhole ? 'Show the most striking groups' : 'Show every group'}
            </Button>
          ) : null}
          <Curves data={data} input={input} />
          <ReturnsTable period={period} of={{ partKind, causeId, supplier }} />
        </>
      ) : null}
    </>
  );
}
