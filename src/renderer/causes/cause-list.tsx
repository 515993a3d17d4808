import { type ReactNode, useRef, useState } from 'react';
import type { RankedCause, Ranking } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { percent } from '../words/units.ts';
import styles from './cause-list.module.css';
import { CountsLine } from './counts-line.tsx';
import { ShareBar } from './share-bar.tsx';
import { useSlide } from './use-slide.ts';

interface Props {
  ranking: Ranking;
  /** How many causes to show before "all of them". */
  first?: number;
  /** More on one line of a cause: a price, a way to close. */
  more?: (cause: RankedCause) => ReactNode;
  /** Makes the title a button. */
  onPick?: (cause: RankedCause) => void;
  pickWords?: (cause: RankedCause) => string;
}

/** What it could be: likeliest first, with share, interval and the tally of our jobs. */
export function CauseList({ ranking, first = 6, more, onPick, pickWords }: Props) {
  const [isWhole, setWhole] = useState(false);
  const list = useRef<HTMLOListElement>(null);
  const shown = isWhole ? ranking.causes : ranking.causes.slice(0, first);
  useSlide(list, shown.map((cause) => cause.causeId).join(' '));
  const hidden = ranking.causes.length - shown.length;
  return (
    <>
      <ol className={styles.list} ref={list}>
        {shown.map((cause, at) => (
          <li key={cause.causeId} data-row={cause.causeId} className={styles.cause}>
            <div className={styles.title}>
              {onPick ? (
                <button
                  type="button"
                  className={styles.pick}
                  onClick={() => onPick(cause)}
                  title={pickWords?.(cause)}
                >
                  {cause.title}
                </button>
              ) : (
                <span>{cause.title}</span>
              )}
              <span className={styles.share}>{percent(cause.probability)}</span>
            </div>
            <ShareBar share={cause.probability} low={cause.low} high={cause.high} first={at === 0} />
            <span className="unseen">
              between {percent(cause.low)} and {percent(cause.high)} with nine chances in ten
            </span>
            <CountsLine cause={cause} />
            {cause.doNotRide ? <DoNotRide small /> : null}
            {more?.(cause)}
          </li>
        ))}
      </ol>
      {ranking.pairs?.length ? (
        <div className={styles.pairs}>
          <p>Two faults together would explain it:</p>
          {ranking.pairs.map((pair) => (
            <p key={pair.causeIds.join('+')} className={styles.title}>
              <span>{pair.title}</span>
              <span className={styles.share}>{percent(pair.probability)}</span>
            </p>
          ))}
        </div>
      ) : null}
      <div className={`${styles.title} ${styles.unlisted}`}>
        <span>Not in the book</span>
        <span className={styles.share}>{percent(ranking.unlisted)}</span>
      </div>
      {hidden > 0 || isWhole ? (
        <Button look="quiet" onClick={() => setWhole(!isWhole)}>
          {isWhole ? 'Show the likeliest only' : `Show ${hidden} more`}
        </Button>
      ) : null}
    </>
  );
}
