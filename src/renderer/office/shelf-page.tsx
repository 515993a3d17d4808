import type { ShelfRow } from '../../api/contract.ts';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useReport } from '../session/use-report.ts';
import { moneyWords } from '../words/money.ts';
import { FilterNote } from './filter-note.tsx';
import { PartsSoon } from './parts-soon.tsx';
import { Pick } from './pick.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { ReportWait } from './report-wait.tsx';
import { short } from './report-words.ts';
import { useFilters } from './use-filters.ts';

const services = ['95', '90', '80', '98', '99'] as const;
const leads = ['', '2', '5', '7', '10', '14', '21', '30', '60'] as const;

const columns: Column<ShelfRow>[] = [
  { title: 'Kind of part', isName: true, shows: (row) => row.title },
  { title: 'Order now', shows: (row) => row.order, isNumber: true },
  { title: 'About', shows: (row) => (row.cost && row.order > 0 ? moneyWords(row.cost) : ''), isNumber: true },
  { title: 'Order at', shows: (row) => row.reorderAt, isNumber: true },
  { title: 'On hand', shows: (row) => row.onHand, isNumber: true },
  { title: 'Reserved', shows: (row) => row.reserved, isNumber: true },
  { title: 'On order', shows: (row) => row.onOrder, isNumber: true },
  { title: 'Used in a year', shows: (row) => row.usedInYear, isNumber: true },
  { title: 'A month', shows: (row) => short(row.perMonth), isNumber: true },
];

/** What to keep on the shelf, and what to order now. */
export function ShelfPage() {
  const filters = useFilters();
  const service = filters.oneOf('service', services);
  const lead = filters.oneOf('lead', leads);
  const input = { service: Number(service) / 100, ...(lead === '' ? {} : { leadDays: Number(lead) }) };
  const report = useReport('patterns.stock', { ...input, limit: 300 });
  const { data } = report;
  const due = data?.rows.filter((row) => row.order > 0) ?? [];
  const enough = data?.rows.filter((row) => !row.neverMoves && row.order === 0) ?? [];
  const resting = data?.rows.filter((row) => row.neverMoves && row.onHand > 0) ?? [];
  return (
    <>
      <h1>What to keep on the shelf</h1>
      <div className={styles.filters}>
        <Pick
          label="Have it in"
          value={service}
          choices={services.map((value) => ({ value, title: `${value} of 100 cases` }))}
          onPick={(value) => filters.set({ service: value })}
        />
        <Pick
          label="Days until a part comes"
          value={lead}
          choices={leads.map((value) => ({
            value,
            title: value === '' ? 'as the orders show' : `${value} days`,
          }))}
          onPick={(value) => filters.set({ lead: value })}
        />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={report} what="Counting the shelf" />
      <ProblemNote problem={report.error} onRetry={() => void report.refetch()} />
      {data ? (
        <>
          {data.remark ? <Empty title={data.remark} /> : null}
          <p className={styles.soft}>
            From what the last 12 months used: enough for {data.leadDays} days
            {data.leadFrom === 'assumed' ? ' (assumed: too few arrivals are noted)' : ''} until an order
            comes, and an order lasts {data.coverDays} days more. Numbers of one kind for different engines
            are counted together.{' '}
            {data.cost && due.length > 0
              ? `Ordering all of it costs about ${moneyWords(data.cost)} at typical prices.`
              : ''}
          </p>
          <h2>Order now</h2>
          {due.length > 0 ? (
            <ReportTable
              caption="Parts to order now"
              columns={columns}
              rows={due}
              keyOf={(row) => row.kind}
              file={{ of: 'shelf', input }}
            />
          ) : (
            <p>Nothing is below its reorder point.</p>
          )}
          <PartsSoon />
          {enough.length > 0 ? (
            <>
              <h2>Enough is there</h2>
              <ReportTable
                caption="Parts of which enough is there"
                columns={columns.filter((column) => !['Order now', 'About'].includes(column.title))}
                rows={enough}
                keyOf={(row) => row.kind}
                file={{ of: 'shelf', input }}
              />
            </>
          ) : null}
          {resting.length > 0 ? (
            <>
              <h2>On the shelf, but not used in a year</h2>
              <ReportTable
                caption="Parts that do not move"
                columns={columns.filter((column) =>
                  ['Kind of part', 'On hand', 'On order'].includes(column.title),
                )}
                rows={resting}
                keyOf={(row) => row.kind}
              />
            </>
          ) : null}
        </>
      ) : null}
    </>
  );
}
