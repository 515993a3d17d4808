import type { ReactNode } from 'react';
import { FileButtons, type FileOf } from './file-buttons.tsx';
import styles from './report.module.css';

export interface Column<R> {
  readonly title: string;
  readonly shows: (row: R) => ReactNode;
  readonly isNumber?: boolean;
  /** Kept wide enough for a few words. */
  readonly isName?: boolean;
}

interface Props<R> {
  caption: string;
  columns: readonly Column<R>[];
  rows: readonly R[];
  keyOf: (row: R) => string;
  /** What a file of these numbers is made of; without it there is nothing to download. */
  file?: FileOf;
}

/** The numbers of a report as a table that can be read aloud, copied and saved as a file. */
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
                  <td
                    key={column.title}
                    className={column.isNumber ? styles.number : column.isName ? styles.name : ''}
                  >
                    {column.shows(row)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {file && rows.length > 0 ? <FileButtons file={file} about={caption} /> : null}
    </div>
  );
}
