import { Link } from 'react-router';
import type { HandbookChange } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { plain } from '../words/labels.ts';
import { whenWords } from '../words/time.ts';
import { changedLines } from './changed-lines.ts';
import page from './handbook-check.module.css';
import styles from './handbook-history.module.css';
import { handbookReads, useWhoEdits } from './who-edits.ts';

function Change({ change, onUndo }: { change: HandbookChange; onUndo: (() => void) | null }) {
  const what = change.before === null ? 'added' : change.after === null ? 'removed' : 'changed';
  return (
    <li className={styles.change}>
      <div className={styles.line}>
        <p>
          {change.kind === 'handbook' ? (
            <b>{change.why}</b>
          ) : (
            <>
              <Link to={`/handbook/${change.kind}/${change.id}`}>{change.title}</Link> {what}
              {change.undoes === null ? '' : ` (takes change ${change.undoes} back)`}
            </>
          )}
          <span className={page.where}>
            {change.seq} · {whenWords(change.at)} · {change.who}
            {change.why && change.kind !== 'handbook' ? ` · ${change.why}` : ''} · {plain(change.kind)}
          </span>
        </p>
        {onUndo && change.canUndo ? (
          <Button size="row" onClick={onUndo}>
            Take it back
          </Button>
        ) : null}
      </div>
      {change.kind === 'handbook' ? null : (
        <details>
          <summary>What changed</summary>
          <pre className={styles.lines}>
            {changedLines(change.before ?? '', change.after ?? '').map((line) => (
              <span
                key={line.key}
                className={line.sign === '+' ? styles.more : line.sign === '-' ? styles.less : ''}
              >
                {line.sign} {line.text}
                {'\n'}
              </span>
            ))}
          </pre>
        </details>
      )}
    </li>
  );
}

/** Who changed what in the handbook, and the way back. */
export function HandbookHistory() {
  const history = useRead('handbook.history', { limit: 100 });
  const undo = useWrite('handbook.undo', handbookReads);
  const [who, setWho] = useWhoEdits();
  const takeBack = async (change: HandbookChange): Promise<void> => {
    if (await undo.run({ seq: change.seq, who: who.trim() })) say(`Change ${change.seq} is taken back.`);
  };
  return (
    <div className={page.page}>
      <p>
        <Link to="/handbook">Back to the Handbook</Link>
      </p>
      <div className={page.head}>
        <h1>Who changed what</h1>
        <Field label="Who takes back">
          {(ids) => (
            <input {...ids} maxLength={60} value={who} onChange={(event) => setWho(event.target.value)} />
          )}
        </Field>
      </div>
      <ProblemNote problem={undo.problem ?? history.error} />
      {history.isPending ? <Waiting what="Reading the history" /> : null}
      {history.data?.changes.length === 0 ? (
        <Empty title="Nothing was changed yet.">
          The handbook is as it was shipped. Edit an entry on its page.
        </Empty>
      ) : (
        <ol className={styles.list}>
          {history.data?.changes.map((change) => (
            <Change
              key={change.seq}
              change={change}
              onUndo={who.trim() && !undo.isBusy ? () => void takeBack(change) : null}
            />
          ))}
        </ol>
      )}
    </div>
  );
}
