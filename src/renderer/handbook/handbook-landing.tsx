import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { plain, sentence } from '../words/labels.ts';
import { whenWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import styles from './handbook-landing.module.css';

type Coverage = OutputOf<'handbook.coverage'>;
const columns = [
  ['symptoms', 'Symptoms'],
  ['causes', 'Causes'],
  ['checks', 'Checks'],
  ['specs', 'Healthy values'],
  ['phrases', 'Ways to say it'],
] as const;

const number = (count: number): string => count.toLocaleString('en-US');

function Systems({ systems }: { systems: Coverage['systems'] }) {
  const total = (name: (typeof columns)[number][0]): number =>
    systems.reduce((sum, each) => sum + each[name], 0);
  return (
    <table className={styles.systems}>
      <caption>What the book holds, by system</caption>
      <thead>
        <tr>
          <th scope="col">System</th>
          {columns.map(([name, title]) => (
            <th key={name} scope="col">
              {title}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {systems.map((each) => (
          <tr key={each.system}>
            <th scope="row">{sentence(plain(each.system))}</th>
            {columns.map(([name]) => (
              <td key={name}>{each[name] === 0 ? 'none' : number(each[name])}</td>
            ))}
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">In all</th>
          {columns.map(([name]) => (
            <td key={name}>{number(total(name))}</td>
          ))}
        </tr>
      </tfoot>
    </table>
  );
}

function checkWords(checked: Coverage['checked']): string {
  if (!checked) return 'This form of the book was not checked since the program was started.';
  const { errors, warnings, notes } = checked;
  if (errors + warnings + notes === 0) return 'Nothing to mend: every reference leads somewhere.';
  const found = [
    countWords(errors, 'error'),
    countWords(warnings, 'warning'),
    countWords(notes, 'note'),
  ].join(', ');
  return errors > 0 ? `The book has errors: ${found}.` : `The book can be used: ${found}.`;
}

/** Where the Handbook begins: how far it reaches, whether it is right, and who last changed it. */
export function HandbookLanding() {
  const coverage = useRead('handbook.coverage', {}, { stale: 0 });
  const history = useRead('handbook.history', { limit: 6 });
  const { data } = coverage;
  return (
    <div className={styles.landing}>
      <p className={styles.lead}>Choose a symptom, a cause or a check in the list, or search it.</p>
      <ProblemNote problem={coverage.error} onRetry={() => void coverage.refetch()} />
      {coverage.isPending ? <Waiting what="Counting the entries" /> : null}
      {data ? <Systems systems={data.systems} /> : null}
      <div className={styles.beside}>
        <section>
          <h2>Is the book right?</h2>
          {data ? <p>{checkWords(data.checked)}</p> : null}
          <p>
            <Link to="/handbook/check">{data?.checked ? 'See the check' : 'Check it now'}</Link>
            {data?.checked ? null : ' It takes some seconds.'}
          </p>
        </section>
        <section>
          <h2>Last changes</h2>
          <ProblemNote problem={history.error} onRetry={() => void history.refetch()} />
          {history.data?.changes.length === 0 ? <p>None. The handbook is as it was shipped.</p> : null}
          <ol>
            {history.data?.changes.map((change) => (
              <li key={change.seq}>
                {change.kind === 'handbook' ? (
                  change.why
                ) : (
                  <>
                    {change.after === null ? (
                      change.title
                    ) : (
                      <Link to={`/handbook/${change.kind}/${change.id}`}>{change.title}</Link>
                    )}{' '}
                    {change.before === null ? 'added' : change.after === null ? 'removed' : 'changed'}
                  </>
                )}
                <span>
                  {whenWords(change.at)}, {change.who}
                </span>
              </li>
            ))}
          </ol>
          {history.data && history.data.changes.length > 0 ? (
            <p>
              <Link to="/handbook/history">Everything that was changed</Link>
            </p>
          ) : null}
        </section>
      </div>
    </div>
  );
}
