import type { PartView } from '../../api/contract.ts';
import { binWords, priceWords, stockWords } from './part-words.ts';
import styles from './parts.module.css';

interface Props {
  parts: readonly PartView[];
  chosen: string | undefined;
  onOpen: (partNumber: string) => void;
}

/** What was found, one dense row each. */
export function PartTable({ parts, chosen, onOpen }: Props) {
  return (
    <table className={styles.table} id="parts-found">
      <thead>
        <tr>
          <th scope="col">Number</th>
          <th scope="col">Part</th>
          <th scope="col">Stock</th>
          <th scope="col">Bin</th>
          <th scope="col">Best price</th>
        </tr>
      </thead>
      <tbody>
        {parts.map((part) => (
          <tr key={part.partNumber} data-chosen={part.partNumber === chosen}>
            <th scope="row">
              <button type="button" className={styles.open} onClick={() => onOpen(part.partNumber)}>
                {part.partNumber}
              </button>
            </th>
            <td>
              {part.title}
              {part.retired ? <b> Out of use</b> : null}
              {part.kind === null ? <p className={styles.soft}>only in a price list</p> : null}
              {part.replacedBy.length > 0 ? (
                <p className={styles.soft}>
                  Now{' '}
                  {part.replacedBy
                    .map(({ partNumber, quantity }) =>
                      quantity > 1 ? `${quantity} × ${partNumber}` : partNumber,
                    )
                    .join(' and ')}
                </p>
              ) : null}
            </td>
            <td>{stockWords(part.stock)}</td>
            <td className={`${styles.number} ${styles.right}`}>{binWords(part.stock)}</td>
            <td className={styles.right}>
              {priceWords(part.prices[0])}
              {part.prices[0] ? <p className={styles.soft}>{part.prices[0].supplier}</p> : null}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
