import { Link } from 'react-router';
import type { FindingView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { plain, sentence } from '../words/labels.ts';
import { countWords } from '../words/units.ts';
import styles from './handbook-check.module.css';

const severities: readonly FindingView['severity'][] = ['error', 'warning', 'note'];
/** "phoneChecks" → "Phone checks". */
const coverageTitle = (name: string): string =>
  sentence(plain(name.replaceAll(/([A-Z])/g, ' $1').toLowerCase()));
const titles = { error: 'Errors', warning: 'Warnings', note: 'Notes' } as const;

function Findings({
  severity,
  findings,
}: {
  severity: FindingView['severity'];
  findings: readonly FindingView[];
}) {
  if (findings.length === 0) return null;
  return (
    <section>
      <h2>
        {titles[severity]} <b>{findings.length}</b>
      </h2>
      <ul>
        {findings.map((finding) => (
          <li
            key={`${finding.file}${finding.line}${finding.field}${finding.id}${finding.code}${finding.message}`}
            className={styles.finding}
          >
            <p>{finding.message}</p>
            <p className={styles.where}>
              {[
                finding.file
                  ? `${finding.file}${finding.line === null ? '' : `, line ${finding.line}`}`
                  : null,
                finding.field,
                finding.id,
              ]
                .filter(Boolean)
                .join(' · ')}
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What a reading of the whole book finds, and how far it reaches. */
export function HandbookCheck() {
  const check = useRead('handbook.check', {});
  return (
    <div className={styles.page}>
      <p>
        <Link to="/handbook">Back to the Handbook</Link>
      </p>
      <div className={styles.head}>
        <h1>Is the book right?</h1>
        <Button disabled={check.isFetching} onClick={() => void check.refetch()}>
          Check again
        </Button>
      </div>
      {check.isPending ? <Waiting what="Reading the whole handbook" /> : null}
      <ProblemNote problem={check.error} onRetry={() => void check.refetch()} />
      {check.data ? (
        <>
          <dl className={styles.coverage}>
            {Object.entries(check.data.coverage).map(([name, count]) => (
              <div key={name}>
                <dt>{coverageTitle(name)}</dt>
                <dd>{count.toLocaleString('en-US')}</dd>
              </div>
            ))}
          </dl>
          {check.data.findings.length === 0 ? (
            <Empty title="Nothing to mend.">Every entry was read, and every reference leads somewhere.</Empty>
          ) : (
            <p>
              {check.data.ok
                ? `The book can be used; ${countWords(check.data.findings.length, 'remark')}.`
                : 'The book has errors.'}
            </p>
          )}
          {severities.map((severity) => (
            <Findings
              key={severity}
              severity={severity}
              findings={check.data.findings.filter((finding) => finding.severity === severity)}
            />
          ))}
        </>
      ) : null}
    </div>
  );
}
