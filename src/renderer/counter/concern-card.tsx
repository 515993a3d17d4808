import { Button } from '../pieces/button.tsx';
import styles from './concern-card.module.css';
import type { IntakeConcern } from './intake.ts';

interface Props {
  concern: IntakeConcern;
  number: number;
  isActive: boolean;
  onPick: () => void;
  onDrop: () => void;
  onUnanswer: (checkId: string) => void;
}

/** One complaint line on the card to be, with the answers given so far. */
export function ConcernCard({ concern, number, isActive, onPick, onDrop, onUnanswer }: Props) {
  return (
    <article className={`${styles.card} ${isActive ? styles.active : ''}`}>
      <div className={styles.head}>
        <button type="button" className={styles.pick} onClick={onPick} aria-pressed={isActive}>
          <span className={styles.words}>
            {number}. “{concern.words}”
          </span>
          <span>{concern.symptom ?? 'No symptom yet; the bench names it.'}</span>
        </button>
        <Button size="row" look="quiet" onClick={onDrop}>
          Remove
        </Button>
      </div>
      {concern.answers.length > 0 ? (
        <ul className={styles.answers}>
          {concern.answers.map(({ title, shows, reading }) => (
            <li key={reading.checkId}>
              <span>
                {title}: <strong>{shows}</strong>
              </span>
              <Button size="row" look="quiet" onClick={() => onUnanswer(reading.checkId)}>
                undo
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
    </article>
  );
}
