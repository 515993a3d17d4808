import { type ReactNode, useState } from 'react';
import type { ImportReport } from '../../api/contract.ts';
import { client } from '../session/client.ts';
import { countWords } from '../words/units.ts';
import styles from './price-lists.module.css';

const kinds = ['changed', 'new', 'unchanged', 'rejected', 'noted'] as const;
type Kind = (typeof kinds)[number];
const kindWords: Record<Kind, string> = {
  changed: 'Changed price',
  new: 'New',
  unchanged: 'Unchanged',
  rejected: 'Rejected',
  noted: 'Taken, with a note',
};

/** "12.50 → 13.75" as a share, for a person who looks for slips. */
function shareWords(from: string, to: string): string {
  const before = Number.parseFloat(from);
  const share = ((Number(to) - before) / before) * 100;
  return Number.isFinite(share)
    ? `${share > 0 ? '+' : ''}${share.toFixed(share > -10 && share < 10 ? 1 : 0)} %`
    : '';
}

function Rows({ head, children }: { head: readonly string[]; children: ReactNode }) {
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          {head.map((title) => (
            <th key={title} scope="col">
              {title}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  );
}

function Changed({ report }: { report: ImportReport }) {
  return (
    <Rows head={['Number', 'Price until now', 'New price', 'Change']}>
      {report.changed.map((row) => (
        <tr key={row.partNumber}>
          <th scope="row" className={styles.number}>
            {row.partNumber}
          </th>
          <td className={styles.figure}>{row.from}</td>
          <td className={styles.figure}>
            {row.to} {row.currency}
          </td>
          <td className={styles.figure}>
            {row.from === row.to ? 'other data' : shareWords(row.from, row.to)}
          </td>
        </tr>
      ))}
    </Rows>
  );
}

function Added({ report }: { report: ImportReport }) {
  return (
    <Rows head={['Number', 'Part', 'Price']}>
      {report.added.map((row) => (
        <tr key={row.partNumber}>
          <th scope="row" className={styles.number}>
            {row.partNumber}
          </th>
          <td>{row.title}</td>
          <td className={styles.figure}>
            {row.price} {row.currency}
          </td>
        </tr>
      ))}
    </Rows>
  );
}

function Lines({ rows, why }: { rows: readonly { row: number; why: string; text: string }[]; why: string }) {
  return (
    <Rows head={['Row', why, 'As it stands in the list']}>
      {rows.map((row) => (
        <tr key={row.row}>
          <th scope="row">{row.row}</th>
          <td>{row.why}</td>
          <td className={styles.raw}>{row.text}</td>
        </tr>
      ))}
    </Rows>
  );
}

/** What a list changes, or did change, one kind of row at a time with how many there are. */
export function ChangesTable({ report }: { report: ImportReport }) {
  const first: Kind = report.counts.rejected > 0 ? 'rejected' : report.counts.changed > 0 ? 'changed' : 'new';
  const [kind, setKind] = useState<Kind>(first);
  const shown = {
    changed: report.changed.length,
    new: report.added.length,
    unchanged: 0,
    rejected: report.rejected.length,
    noted: report.notes.length,
  }[kind];
  const count = report.counts[kind];
  return (
    <div className={styles.changes}>
      <fieldset className={styles.kinds}>
        <legend className="unseen">Rows to look at</legend>
        {kinds.map((one) => (
          <button
            key={one}
            type="button"
            aria-pressed={kind === one}
            disabled={report.counts[one] === 0 && one !== kind}
            onClick={() => setKind(one)}
          >
            {kindWords[one]} <b>{report.counts[one].toLocaleString('en-US')}</b>
          </button>
        ))}
      </fieldset>
      {kind === 'unchanged' ? (
        <p>{countWords(count, 'row')} say what is known already; nothing is written for them.</p>
      ) : count > shown ? (
        <p>
          The first {shown} of {count.toLocaleString('en-US')}.
        </p>
      ) : null}
      {kind === 'changed' && shown > 0 ? <Changed report={report} /> : null}
      {kind === 'new' && shown > 0 ? <Added report={report} /> : null}
      {kind === 'rejected' && shown > 0 ? <Lines rows={report.rejected} why="Why it was rejected" /> : null}
      {kind === 'noted' && shown > 0 ? (
        <Lines rows={report.notes.map(({ note, ...row }) => ({ ...row, why: note }))} why="Note" />
      ) : null}
    </div>
  );
}

/** The rejected lines as a file, which can be mended and fed again. */
export function RejectsLink({ report }: { report: ImportReport }) {
  if (!report.rejectsName) return null;
  return (
    <p>
      <a href={client.rejectsAddress(report.rejectsName)} download={report.rejectsName}>
        Download the {countWords(report.counts.rejected, 'rejected line')}
      </a>{' '}
      with row and reason, mend them in the file, and feed it again.
    </p>
  );
}
