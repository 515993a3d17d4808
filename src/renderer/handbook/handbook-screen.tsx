import { Link, useParams } from 'react-router';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { countWords } from '../words/units.ts';
import { EntryIndex } from './entry-index.tsx';
import { EntryPage } from './entry-page.tsx';
import styles from './handbook-screen.module.css';

const changes = [
  'handbook.browse',
  'handbook.read',
  'handbook.check',
  'symptoms.list',
  'models.list',
  'shop.status',
] as const;

/** The Handbook: systems on the left, a readable page on the right. */
export function HandbookScreen() {
  const { kind, id } = useParams();
  const status = useRead('shop.status', {});
  const reload = useWrite('handbook.reload', changes);
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
          <Button size="row" disabled={reload.isBusy} onClick={() => void load()}>
            Load the shipped handbook again
          </Button>
        </div>
        <ProblemNote problem={reload.problem} />
        {kind && id ? (
          <EntryPage kind={kind} id={id} />
        ) : (
          <Empty title="Choose a symptom, a cause or a check on the left.">
            {status.data
              ? `The book holds ${countWords(status.data.symptoms, 'symptom')}, ${countWords(status.data.causes, 'cause')} and ${countWords(status.data.checks, 'check')}.`
              : ''}
          </Empty>
        )}
      </div>
    </div>
  );
}
