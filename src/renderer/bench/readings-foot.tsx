import type { ConcernView, RecordedReading } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import styles from './readings-foot.module.css';
import type { JobDesk } from './use-job.ts';

interface Props {
  desk: JobDesk;
  concern: ConcernView;
  onUndone: () => void;
  onFound: () => void;
}

function Chip({
  reading,
  isOpen,
  onUndo,
}: {
  reading: RecordedReading;
  isOpen: boolean;
  onUndo: () => void;
}) {
  const shows = reading.skipped === null ? reading.shows : `skipped, ${reading.skipped}`;
  return (
    <li className={styles.chip}>
      <span>
        {reading.title}: <b className={/\d/.test(shows) ? styles.number : ''}>{shows}</b>
      </span>
      {isOpen ? (
        <button type="button" onClick={onUndo} aria-label={`Undo ${reading.title}`}>
          undo
        </button>
      ) : null}
    </li>
  );
}

/** Along the bottom: the readings so far, each with undo, and the way to close. */
export function ReadingsFoot({ desk, concern, onUndone, onFound }: Props) {
  const isOpen = concern.state === 'open';
  return (
    <footer className={styles.foot}>
      <span className={styles.label}>Readings</span>
      {concern.readings.length === 0 ? <span className={styles.none}>none yet</span> : null}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a strip that scrolls sideways must be reachable by keyboard */}
      <ul className={styles.strip} tabIndex={0} aria-label="Readings so far">
        {concern.readings.map((reading) => (
          <Chip
            key={reading.readingId}
            reading={reading}
            isOpen={isOpen}
            onUndo={() => {
              onUndone();
              void desk.run('jobs.undo', { concernId: concern.concernId, readingId: reading.readingId });
            }}
          />
        ))}
      </ul>
      {isOpen ? (
        <Button look="main" className={styles.go} onClick={onFound}>
          Found it: close with a cause
        </Button>
      ) : null}
    </footer>
  );
}
