import { Link } from 'react-router';
import type { RepairBehind } from '../../api/contract.ts';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { dayWords } from '../words/time.ts';
import type { Period } from './period.ts';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { backWords } from './report-words.ts';

interface Props {
  period: Period;
  of: {
    readonly partKind: string | undefined;
    readonly causeId: string | undefined;
    readonly supplier: string;
  };
}

const states = ['in-doubt', 'diagnosis-stands', 'diagnosis-taken-back'] as const;

const columns: Column<RepairBehind>[] = [
  {
    title: 'Came back as',
    shows: (job) => (job.back ? <Link to={`/bench/${job.back.jobNumber}`}>{job.back.jobNumber}</Link> : ''),
  },
  { title: 'After, days', shows: (job) => job.back?.days ?? '', isNumber: true },
  { title: 'Decided', shows: (job) => (job.back ? backWords[job.back.state] : '') },
  { title: 'Why', shows: (job) => job.back?.why ?? '' },
  {
    title: 'First repair',
    shows: (job) => (
      <>
        <Link to={`/bench/${job.jobNumber}`}>{job.jobNumber}</Link>, {dayWords(job.closedAt)}
        <span className={styles.below}>{job.causes.join('; ')}</span>
      </>
    ),
  },
  {
    title: 'Fitted',
    shows: (job) =>
      job.parts.map((part) => `${part.title}${part.supplier ? ` from ${part.supplier}` : ''}`).join('; '),
  },
];

/** The returns themselves: those in doubt first, each with the card on which it is classified. */
export function ReturnsTable({ period, of }: Props) {
  const asked = {
    ...period.input,
    ...(of.partKind ? { partKind: of.partKind } : {}),
    ...(of.causeId ? { causeId: of.causeId } : {}),
    ...(of.supplier ? { supplier: of.supplier } : {}),
    limit: 50,
  };
  const found = {
    'in-doubt': useRead('patterns.jobs', { ...asked, back: states[0] }, { keep: true, stale: 30_000 }),
    'diagnosis-stands': useRead(
      'patterns.jobs',
      { ...asked, back: states[1] },
      { keep: true, stale: 30_000 },
    ),
    'diagnosis-taken-back': useRead(
      'patterns.jobs',
      { ...asked, back: states[2] },
      { keep: true, stale: 30_000 },
    ),
  };
  const rows = states.flatMap((state) => found[state].data?.jobs ?? []);
  const all = states.reduce((sum, state) => sum + (found[state].data?.all ?? 0), 0);
  const problem = states.map((state) => found[state].error).find(Boolean);
  return (
    <>
      <h2>The returns</h2>
      <ProblemNote problem={problem} />
      {rows.length === 0 && !problem ? (
        <p className={styles.soft}>No repair of this choice came back.</p>
      ) : null}
      {rows.length > 0 ? (
        <>
          <p className={styles.soft}>
            Wrongly decided? Open the card it came back as: there it is classified, and the card shows what
            that does to the tally before it is saved.{' '}
            {all > rows.length ? `The newest of ${all} are shown.` : ''}
          </p>
          <ReportTable
            caption="Returns"
            columns={columns}
            rows={rows}
            keyOf={(job) => `${job.jobNumber} ${job.back?.jobNumber} ${job.concern}`}
          />
        </>
      ) : null}
    </>
  );
}
