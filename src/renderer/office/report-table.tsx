import type { ReactNode } from 'react';
import { Button } from '../pieces/button.tsx';
import styles from './report.module.css';
import { saveCsv } from './save-csv.ts';

export interface Column<R> {
  readonly title: string;
  /** What the file gets, and the screen too where `shows` is left out. */
  readonly text: (row: R) => string | number;
  readonly shows?: (row: R) => ReactNode;
  readonly isNumber?: boolean;
}

interface Props<R> {
  caption: string;
  columns: readonly Column<R>[];
  rows: readonly R[];
  keyOf: (row: R) => string;
  /** Name of the file without its ending; without one there is nothing to download. */
  file?: string;
}

/** The numbers of a report as a table that can be read aloud, copied and downloaded. */
export function ReportTable<R>({ caption, columns, rows, keyOf, file }: Props<R>) {
  return (
    <div className={styles.tableBox}>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls sideways, also by keyboard */}
      <section className={styles.scroll} aria-label={caption} tabIndex={0}>
        <table className={styles.table}>
          <caption className="unseen">{caption}</caption>
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column.title} scope="col" className={column.isNumber ? styles.number : ''}>
                  {column.title}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={keyOf(row)}>
                {columns.map((column) => (
                  <td key={column.title} className={column.isNumber ? styles.number : ''}>
                    {column.shows ? column.shows(row) : column.text(row)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {file && rows.length > 0 ? (
        <Button
          size="row"
          look="quiet"
          onClick={() =>
            saveCsv(file, [
              columns.map((column) => column.title),
              ...rows.map((row) => columns.map((column) => column.text(row))),
            ])
          }
        >
          Download as CSV
        </Button>
      ) : null}
    </div>
  );
}
