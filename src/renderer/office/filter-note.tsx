import styles from './report.module.css';
import type { Filters } from './use-filters.ts';

const cut = (text: string): string => (text.length > 60 ? `${text.slice(0, 59)}…` : text);

/** Says what in the address was not understood. Drawn after the filters were read. */
export function FilterNote({ filters }: { filters: Filters }) {
  if (filters.ignored.length === 0) return null;
  return (
    <div className={styles.note} role="status">
      {filters.ignored.map(({ name, value, instead }) => (
        <p key={name}>
          The address says {name} “{cut(value)}”, which means nothing here; {instead} is shown.
        </p>
      ))}
    </div>
  );
}
