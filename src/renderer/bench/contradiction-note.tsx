import type { ConcernView, Ranking } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import styles from './do-next-column.module.css';
import type { JobDesk } from './use-job.ts';

interface Props {
  desk: JobDesk;
  concern: ConcernView;
  contradiction: NonNullable<Ranking['contradiction']>;
  onAgain: (checkId: string | null) => void;
}

/** The readings do not fit any one cause: which of them to take again. */
export function ContradictionNote({ desk, concern, contradiction, onAgain }: Props) {
  const given = concern.readings.filter(({ skipped }) => skipped === null);
  const doubtful = contradiction.repeat === null ? undefined : given[contradiction.repeat];
  const again = (): void => {
    if (!doubtful) return;
    void desk
      .run('jobs.undo', { concernId: concern.concernId, readingId: doubtful.readingId })
      .then(() => onAgain(doubtful.checkId));
  };
  return (
    <div className={styles.first} role="status">
      <p>
        <strong>The readings contradict each other.</strong> {contradiction.why}
      </p>
      {doubtful ? (
        <>
          <p>
            Most worth repeating: <strong>{contradiction.repeatTitle ?? doubtful.title}</strong> (
            {doubtful.shows}).
          </p>
          <Button onClick={again}>Take it again</Button>
        </>
      ) : null}
    </div>
  );
}
