import type { ReactNode } from 'react';
import styles from './column-title.module.css';

/** The quiet heading of a column. */
export function ColumnTitle({ children, right }: { children: ReactNode; right?: ReactNode }) {
  return (
    <div className={styles.head}>
      <h2 className={styles.title}>{children}</h2>
      {right}
    </div>
  );
}
