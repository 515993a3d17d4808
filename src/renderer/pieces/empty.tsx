import type { ReactNode } from 'react';
import styles from './empty.module.css';

/** An empty place says what to do next. */
export function Empty({ title, children }: { title: string; children?: ReactNode }) {
  return (
    <div className={styles.empty}>
      <p className={styles.title}>{title}</p>
      {children ? <div className={styles.next}>{children}</div> : null}
    </div>
  );
}

/** A calm word while something is on its way; it appears only when the wait is noticeable. */
export function Waiting({ what = 'Reading the book' }: { what?: string }) {
  return (
    <p className={styles.waiting} role="status">
      {what}…
    </p>
  );
}
