import { Link } from 'react-router';
import { Problem } from '../../problem.ts';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { AddToQuote } from '../quotes/add-to-quote.tsx';
import type { AddTarget } from '../quotes/use-add-part.ts';
import { useRead } from '../session/use-read.ts';
import { moneyWords } from '../words/money.ts';
import { dayWords } from '../words/time.ts';
import { attributeName, binWords, fitmentWords, priceWords, printedGtin, stockWords } from './part-words.ts';
import styles from './parts.module.css';

interface Props {
  partNumber: string;
  /** Whose quote the part goes onto. */
  target: AddTarget;
  onOpen: (partNumber: string) => void;
}

/** A number that only stands in a price list, or that nobody has. */
function NotInCatalog({ partNumber }: { partNumber: string }) {
  const listed = useRead('parts.find', { text: partNumber, limit: 5 });
  const priced = listed.data?.parts.find((part) => part.partNumber === partNumber);
  const query = new URLSearchParams({ number: partNumber, ...(priced ? { title: priced.title } : {}) });
  return (
    <section className={styles.card} aria-label={`Part ${partNumber}`}>
      <ColumnTitle>Part</ColumnTitle>
      <p className={styles.number}>{partNumber}</p>
      {priced ? <h3>{priced.title}</h3> : null}
      {priced?.prices.map((price) => (
        <p key={price.supplierId}>
          {priceWords(price)} <span className={styles.soft}>{price.supplier}</span>
        </p>
      ))}
      {listed.isPending ? <Waiting what="Looking into the price lists" /> : null}
      <p>
        {priced
          ? 'This number stands only in a price list: what it is and what it fits is not known.'
          : 'The catalog has no such number.'}
      </p>
      {listed.isPending ? null : (
        <p>
          <Link to={`/counter/parts/new?${query.toString()}`}>Take it into the catalog</Link>
        </p>
      )}
    </section>
  );
}

/** One part: stock and prices, what it fits, what replaces it, and what is equal to it. */
export function PartDetail({ partNumber, target, onOpen }: Props) {
  const read = useRead('parts.get', { partNumber });
  if (read.isPending) return <Waiting what="Getting the part" />;
  if (read.error instanceof Problem && read.error.code === 'not-found')
    return <NotInCatalog partNumber={partNumber} />;
  if (read.isError) return <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />;
  const { part, fitments, replaces, equalParts, priceHistory } = read.data;
  const opens = (number: string) => (
    <button key={number} type="button" className={styles.open} onClick={() => onOpen(number)}>
      {number}
    </button>
  );
  return (
    <section className={styles.card} aria-label={`Part ${part.partNumber}`}>
      <ColumnTitle>Part</ColumnTitle>
      <p className={styles.number}>{part.partNumber}</p>
      <h3>{part.title}</h3>
      {part.retired ? (
        <p className={styles.warning} role="status">
          <b>Out of use.</b>{' '}
          {part.replacedBy.length === 0
            ? 'Nothing is noted that replaces it.'
            : 'Take what replaces it in its place: '}
          {part.replacedBy.map(({ partNumber: next, quantity }) => (
            <span key={next}>
              {quantity > 1 ? `${quantity} × ` : ''}
              {opens(next)}{' '}
            </span>
          ))}
        </p>
      ) : null}
      <div>
        <AddToQuote partNumber={part.partNumber} {...target} />
      </div>
      <dl className={styles.facts}>
        {part.maker ? (
          <>
            <dt>Maker</dt>
            <dd>{part.maker}</dd>
          </>
        ) : null}
        <dt>Stock</dt>
        <dd>
          {stockWords(part.stock)}, bin {binWords(part.stock)}
        </dd>
        <dt>Price</dt>
        <dd>
          {part.prices.length === 0 ? 'no price' : null}
          {part.prices.map((price) => (
            <p key={price.supplierId}>
              {priceWords(price)} <span className={styles.soft}>{price.supplier}</span>
            </p>
          ))}
        </dd>
        {part.gtin ? (
          <>
            <dt>Barcode</dt>
            <dd className={styles.number}>{printedGtin(part.gtin)}</dd>
          </>
        ) : null}
        {Object.entries(part.attributes).map(([name, value]) => (
          <div key={name} className={styles.fact}>
            <dt>{attributeName(name)}</dt>
            <dd>{value}</dd>
          </div>
        ))}
        {part.replacedBy.length > 0 ? (
          <>
            <dt>Replaced by</dt>
            <dd>
              {part.replacedBy.map(({ partNumber: next, quantity, chain }) => (
                <p key={next}>
                  {quantity > 1 ? `${quantity} × ` : ''}
                  {opens(next)} <span className={styles.soft}>{chain.join(' → ')}</span>
                </p>
              ))}
            </dd>
          </>
        ) : null}
        {replaces.length > 0 ? (
          <>
            <dt>Replaces</dt>
            <dd>
              {replaces.map((chain) => (
                <p key={chain.join(' ')}>{chain.join(' → ')}</p>
              ))}
            </dd>
          </>
        ) : null}
        {equalParts.length > 0 ? (
          <>
            <dt>Equal parts</dt>
            <dd className={styles.line}>{equalParts.map(opens)}</dd>
          </>
        ) : null}
        <dt>Fits</dt>
        <dd>
          {fitments.length === 0 ? 'No machine is listed for it.' : null}
          <ul>
            {fitments.map((fitment) => (
              <li key={fitmentWords(fitment)}>{fitmentWords(fitment)}</li>
            ))}
          </ul>
        </dd>
      </dl>
      <p>
        <Link to={`/counter/parts/edit?part=${encodeURIComponent(part.partNumber)}`}>
          Change what is known of it
        </Link>
      </p>
      {priceHistory.length > part.prices.length ? (
        <details>
          <summary>All prices since the first</summary>
          <ul>
            {priceHistory.map((price) => (
              <li key={`${price.supplierId} ${price.since} ${price.price.amount}`}>
                {dayWords(price.since)}: {moneyWords(price.price)}, {price.supplier}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
}
