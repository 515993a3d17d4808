import { Link } from 'react-router';
import { type InputOf, type RepairBehind, recurringBy } from '../../api/contract.ts';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useReport } from '../session/use-report.ts';
import { proofWords } from '../words/labels.ts';
import { dayWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import { FilterNote } from './filter-note.tsx';
import { readPeriod } from './period.ts';
import { PeriodPick } from './period-pick.tsx';
import { Pick } from './pick.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { ReportWait } from './report-wait.tsx';
import { backWords, lastDayWords } from './report-words.ts';
import { type Filters, useFilters } from './use-filters.ts';

const backs = [
  { value: '', title: 'All repairs' },
  { value: 'diagnosis-stands', title: 'Those that did not hold' },
  { value: 'diagnosis-taken-back', title: 'Those that had another cause' },
  { value: 'in-doubt', title: 'Those in doubt' },
] as const;

const columns: Column<RepairBehind>[] = [
  { title: 'Job', shows: (job) => <Link to={`/bench/${job.jobNumber}`}>{job.jobNumber}</Link> },
  { title: 'Closed', shows: (job) => <span className={styles.whole}>{dayWords(job.closedAt)}</span> },
  {
    title: 'Vehicle',
    shows: (job) => (
      <>
        {job.model}
        {job.plate ? <span className={styles.below}>{job.plate}</span> : null}
      </>
    ),
  },
  {
    title: 'Concern and proven cause',
    shows: (job) => (
      <>
        {job.concern}
        <span className={styles.below}>{job.causes.join('; ')}</span>
      </>
    ),
  },
  {
    title: 'Proof and parts',
    shows: (job) => (
      <>
        {job.proof && job.proof in proofWords ? proofWords[job.proof as keyof typeof proofWords] : ''}
        <span className={styles.below}>
          {job.parts
            .map(
              (part) =>
                `${part.quantity > 1 ? `${part.quantity} × ` : ''}${part.title}${part.supplier ? ` from ${part.supplier}` : ''}`,
            )
            .join('; ')}
        </span>
      </>
    ),
  },
  {
    title: 'Came back',
    shows: (job) =>
      job.back ? (
        <>
          {backWords[job.back.state]}
          <span className={styles.below}>
            {job.back.days === null ? 'as job' : `after ${countWords(job.back.days, 'day')}, as job`}{' '}
            <Link to={`/bench/${job.back.jobNumber}`}>{job.back.jobNumber}</Link>
          </span>
        </>
      ) : (
        ''
      ),
  },
];

/** What the address asks for; a group of a report is named by both of its words or not at all. */
function asked(filters: Filters): Omit<InputOf<'patterns.jobs'>, 'limit'> {
  const by = filters.get('by') === '' ? undefined : filters.oneOf('by', recurringBy);
  const slugs = {
    modelId: filters.slug('model'),
    causeId: filters.slug('cause'),
    componentId: filters.slug('component'),
    symptomId: filters.slug('symptom'),
    partKind: filters.slug('partKind'),
  };
  const supplier = filters.get('supplier').trim().slice(0, 80);
  const back = filters.oneOf(
    'back',
    backs.map((one) => one.value),
  );
  return {
    ...readPeriod(filters, '365').input,
    ...(by === undefined ? {} : { by, key: filters.get('key').slice(0, 160) }),
    ...Object.fromEntries(Object.entries(slugs).filter(([, value]) => value !== undefined)),
    ...(supplier ? { supplier } : {}),
    ...(back === '' ? {} : { back }),
    ...(filters.get('taken') === 'too' ? { alsoTakenBack: true } : {}),
  };
}

/** The jobs behind a number: what a row or a bar of a report was counted from. */
export function JobsPage() {
  const filters = useFilters();
  const period = readPeriod(filters, '365');
  const input = asked(filters);
  const report = useReport('patterns.jobs', { ...input, limit: 200 });
  const { data } = report;
  return (
    <>
      <h1>{data ? data.title : 'The jobs behind a number'}</h1>
      <div className={styles.filters}>
        <PeriodPick filters={filters} period={period} usual="365" />
        <Pick
          label="Show"
          value={input.back ?? ''}
          choices={backs}
          onPick={(value) => filters.set({ back: value })}
        />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={report} what="Looking up the jobs" />
      <ProblemNote problem={report.error} onRetry={() => void report.refetch()} />
      {data ? (
        <>
          <p className={styles.soft}>
            {countWords(data.all, 'proven repair')} closed from {dayWords(data.period.from)} to{' '}
            {lastDayWords(data.period.until)}
            {data.all > data.jobs.length ? `; the newest ${data.jobs.length} are shown` : ''}.{' '}
            <Link to="/office/jobs">All proven repairs</Link>
          </p>
          {data.remark ? <Empty title={data.remark} /> : null}
          {!data.remark && data.all === 0 ? (
            <Empty title="No proven repair for this choice in this period.">
              Choose a longer period, or see whether the address names the right model and part.
            </Empty>
          ) : null}
          {data.jobs.length > 0 ? (
            <ReportTable
              caption={data.title}
              columns={columns}
              rows={data.jobs}
              keyOf={(job) => `${job.jobNumber} ${job.concern} ${job.causes.join()}`}
              file={{ of: 'jobs', input }}
            />
          ) : null}
        </>
      ) : null}
    </>
  );
}
