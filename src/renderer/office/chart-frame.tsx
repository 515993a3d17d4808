import { type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import styles from './report.module.css';

/** Charts are told apart by shape, dash and words, so that they read in gray. */
export const ink = 'var(--ink)';
export const soft = 'var(--soft)';
export const line = 'var(--line)';
/** Bars are light with an edge, so that a line over them can be seen in gray. */
export const bar = 'var(--line)';
export const copper = 'var(--copper)';

interface Props {
  caption: string;
  height: number;
  /** What each shape means. */
  signs: readonly string[];
  children: (size: { width: number; height: number }) => ReactNode;
}

/** A chart with its caption and key. Its numbers stand in a table beside it, so readers pass over the drawing. */
export function ChartFrame({ caption, height, signs, children }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const measured = box.current;
    if (!measured) return;
    const measure = (): void => setWidth(Math.floor(measured.clientWidth));
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(measured);
    return () => watcher.disconnect();
  }, []);
  return (
    <figure className={styles.figure}>
      <figcaption>{caption}</figcaption>
      <div ref={box} aria-hidden="true">
        {width > 0 ? children({ width, height }) : null}
      </div>
      <ul className={styles.key}>
        {signs.map((sign) => (
          <li key={sign}>{sign}</li>
        ))}
      </ul>
    </figure>
  );
}
