import type { FitView, NearMissView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { useRead } from '../session/use-read.ts';
import { attributeName, binWords, certaintyWords, priceWords, stockWords } from './part-words.ts';
import styles from './parts.module.css';

type Part = FitView | NearMissView;
const fitWords = (part: Part): string =>
  'certainty' in part ? `${certaintyWords[part.certainty]}: ${part.why}` : `Does not fit: ${part.whyNot}`;

/** Two parts side by side, line by line; what differs is set in bold. */
export function CompareParts({ left, right, onDone }: { left: Part; right: Part; onDone: () => void }) {
  const a = useRead('parts.get', { partNumber: left.partNumber });
  const b = useRead('parts.get', { partNumber: right.partNumber });
  const ofLeft = a.data?.part.attributes ?? {};
  const ofRight = b.data?.part.attributes ?? {};
  const names = [...new Set([...Object.keys(ofLeft), ...Object.keys(ofRight)])];
  const rows: [string, string, string][] = [
    ['Part', left.title, right.title],
    ['Fit', fitWords(left), fitWords(right)],
    ['Maker', left.maker, right.maker],
    ['Price', priceWords(left.price), priceWords(right.price)],
    ['Stock', stockWords(left.stock), stockWords(right.stock)],
    ['Bin', binWords(left.stock), binWords(right.stock)],
    ...names.map((name): [string, string, string] => [
      attributeName(name),
      String(ofLeft[name] ?? 'not stated'),
      String(ofRight[name] ?? 'not stated'),
    ]),
  ];
  return (
    <section aria-label="Side by side" className={styles.sides}>
      <table className={styles.table}>
        <caption>
          Side by side{' '}
          <Button size="row" look="quiet" onClick={onDone}>
            Done comparing
          </Button>
        </caption>
        <thead>
          <tr>
            <td />
            <th scope="col" className={styles.number}>
              {left.partNumber}
            </th>
            <th scope="col" className={styles.number}>
              {right.partNumber}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, one, other]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{one === other ? one : <b>{one}</b>}</td>
              <td>{one === other ? other : <b>{other}</b>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
