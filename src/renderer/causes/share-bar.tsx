import type { CSSProperties } from 'react';
import styles from './share-bar.module.css';

/** A share as length, with its 90 % interval as a whisker. The number stands beside it. */
export function ShareBar({
  share,
  low,
  high,
  first,
}: {
  share: number;
  low: number;
  high: number;
  first: boolean;
}) {
  const lengths = { '--share': share, '--low': low, '--high': Math.max(high, low + 0.004) } as CSSProperties;
  return (
    <div className={`${styles.bar} ${first ? styles.first : ''}`} style={lengths} aria-hidden="true">
      <i />
      <u />
    </div>
  );
}
