import { Link, useParams } from 'react-router';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { plain } from '../words/labels.ts';
import { countWords } from '../words/units.ts';
import { EntryIndex } from './entry-index.tsx';
import { EntryPage } from './entry-page.tsx';
import { HandbookLanding } from './handbook-landing.tsx';
import styles from './handbook-screen.module.css';
import { NewEntry } from './new-entry.tsx';
import { handbookReads } from './who-edits.ts';

/** The Handbook: systems on the left, a readable page on the right. */
export function HandbookScreen({ writesNew = false }: { writesNew?: boolean }) {
  const { kind, id } = useParams();
  const status = useRead('shop.status', {});
  const reload = useWrite('handbook.reload', handbookReads);
  const load = async (): Promise<void> => {
    const done = await reload.run({});
    if (done)
      say(`Handbook ${done.bookVersion} is loaded; ${countWords(done.changed, 'entry', 'entries')} changed.`);
  };
  return (
    <div className={styles.handbook}>
      <div className={styles.side}>
        <EntryIndex kind={kind} id={id} />
      </div>
      <div className={styles.page}>
        <div className={styles.bar}>
          <p>{status.data ? `Handbook ${status.data.bookVersion}` : ''}</p>
          <Link to="/handbook/check" className={styles.link}>
            Is the book right?
          </Link>
          <Link to="/handbook/history" className={styles.link}>
            History
          </Link>
          <Link to="/handbook/upkeep" className={styles.link}>
            Upkeep
          </Link>
          <Link to={`/handbook/new/${kind ?? 'cause'}`} className={styles.link}>
            New {plain(kind ?? 'cause')}
          </Link>
          <Button size="row" disabled={reload.isBusy} onClick={() => void load()}>
            Load the shipped handbook again
          </Button>
        </div>
        <ProblemNote problem={reload.problem} />
        {writesNew ? (
          <NewEntry />
        ) : kind && id ? (
          <EntryPage key={`${kind} ${id}`} kind={kind} id={id} />
        ) : (
          <HandbookLanding />
        )}
      </div>
    </div>
  );
}
