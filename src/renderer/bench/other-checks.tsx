import { useState } from 'react';
import type { CheckView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { kindWords } from '../words/labels.ts';
import { minutesWords } from '../words/units.ts';
import styles from './other-checks.module.css';

const atOnce = 4;

/** Any check may be done in any order; these are the others, best first. */
export function OtherChecks({
  checks,
  current,
  onCheck,
}: {
  checks: readonly CheckView[];
  current: string | null;
  onCheck: (checkId: string) => void;
}) {
  const [isWhole, setWhole] = useState(false);
  const others = checks.filter(({ checkId }) => checkId !== current);
  if (others.length === 0) return null;
  const shown = isWhole ? others : others.slice(0, atOnce);
  return (
    <div className={styles.others}>
      <h3 className="unseen">Other checks</h3>
      <ul>
        {shown.map((check) => (
          <li key={check.checkId}>
            <button type="button" onClick={() => onCheck(check.checkId)}>
              <span>
                <b>{kindWords[check.kind]}:</b> {check.title}
              </span>
              <span className={styles.minutes}>{minutesWords(check.minutes)}</span>
            </button>
          </li>
        ))}
      </ul>
      {others.length > atOnce ? (
        <Button look="quiet" onClick={() => setWhole(!isWhole)}>
          {isWhole ? 'Show fewer' : `Show ${others.length - atOnce} more checks`}
        </Button>
      ) : null}
    </div>
  );
}
