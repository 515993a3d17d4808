import type { ConcernView } from '../../api/contract.ts';
import styles from './concern-tabs.module.css';

interface Props {
  concerns: readonly ConcernView[];
  chosen: string;
  onChoose: (concernId: string) => void;
}

/** The concerns of one visit, one at a time. */
export function ConcernTabs({ concerns, chosen, onChoose }: Props) {
  if (concerns.length < 2) return null;
  return (
    <fieldset className={styles.tabs} aria-label="Concerns of this job">
      {concerns.map((concern, at) => (
        <button
          key={concern.concernId}
          type="button"
          aria-pressed={concern.concernId === chosen}
          onClick={() => onChoose(concern.concernId)}
        >
          {at + 1}. {concern.symptom ?? 'No symptom yet'}
          {concern.state === 'closed' ? ' (closed)' : ''}
        </button>
      ))}
    </fieldset>
  );
}
