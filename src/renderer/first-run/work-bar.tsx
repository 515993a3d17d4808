import type { WorkState } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import styles from './work-bar.module.css';

/** Long work: how far it is, what it does, and a way to stop it. */
export function WorkBar({ work, onCancel }: { work: WorkState; onCancel: () => void }) {
  return (
    <div className={styles.work}>
      <p>
        <strong>{work.title}</strong>
      </p>
      <progress max={1} value={work.progress} aria-label={work.title} />
      <p className={styles.says} role="status">
        {work.says}
      </p>
      <Button size="row" onClick={onCancel}>
        Cancel
      </Button>
    </div>
  );
}
