import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { StockView } from '../../api/contract.ts';
import { binWords, stockWords } from '../parts/part-words.ts';
import styles from './stock.module.css';

/** Parts with where they lie, some figures, and what to do with each. */
export function StockTable({ figures, children }: { figures: readonly string[]; children: ReactNode }) {
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <thead>
          <tr>
            {['Part', ...figures, 'Shelf', 'What to do'].map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </div>
  );
}

interface Props {
  view: StockView;
  /** As many as the table names. */
  figures: readonly number[];
  /** Whether the number leads to the part. */
  isLinked?: boolean;
  /** What to do with it. */
  children: ReactNode;
  /** A form under the row, while it is open. */
  form: ReactNode;
}

/** One part of a stock table, with the form that is opened from it. */
export function StockRow({ view, figures, isLinked = false, children, form }: Props) {
  const { partNumber, title, stock } = view;
  return (
    <>
      <tr>
        <th scope="row">
          {isLinked ? (
            <Link className={styles.number} to={`/counter/parts?part=${encodeURIComponent(partNumber)}`}>
              {partNumber}
            </Link>
          ) : (
            <span className={styles.number}>{partNumber}</span>
          )}{' '}
          {title}
        </th>
        {figures.map((figure, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a figure is told by its column
          <td key={at}>{figure}</td>
        ))}
        <td>
          {stockWords(stock)}, bin {binWords(stock)}
        </td>
        <td>{children}</td>
      </tr>
      {form ? (
        <tr>
          <td colSpan={figures.length + 3}>{form}</td>
        </tr>
      ) : null}
    </>
  );
}
