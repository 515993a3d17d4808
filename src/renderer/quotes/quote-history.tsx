import type { QuoteView } from '../../api/contract.ts';
import { howWords } from '../words/labels.ts';
import { moneyWords } from '../words/money.ts';
import { dayWords } from '../words/time.ts';
import { minutesWords } from '../words/units.ts';
import { PdfButtons } from './quote-paper.tsx';
import styles from './quotes.module.css';

function answerWords(answer: NonNullable<QuoteView['answer']>): string {
  const who = `${answer.who}, ${howWords[answer.how]}`;
  if (answer.total.amount === 0 && answer.declinedLineIds.length > 0) return `declined by ${who}`;
  const left = answer.declinedLineIds.length;
  return `accepted by ${who}: ${moneyWords(answer.total)}${left > 0 ? `, without ${left} of its lines` : ''}`;
}

/** Every version that was handed out: none of them ever changes. */
export function QuoteVersions({ quote }: { quote: QuoteView }) {
  if (quote.issues.length === 0) return null;
  // The paper of the version that stands is made above.
  const present = quote.state === 'draft' ? null : quote.issues.length;
  return (
    <section className={styles.part} aria-label="Versions handed out">
      <h3>Versions handed out</h3>
      <ul className={styles.versions}>
        {quote.issues.map((issue) => (
          <li key={issue.issue}>
            <span>
              <b>Version {issue.issue}</b>, {dayWords(issue.at)}: {moneyWords(issue.total)}, holds until{' '}
              {issue.validUntil}
              {issue.answer ? `; ${answerWords(issue.answer)}` : ''}
            </span>
            {issue.issue === present ? null : <PdfButtons quoteId={quote.quoteId} issue={issue.issue} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What the job took against what was quoted. */
export function AgainstQuoted({ against }: { against: NonNullable<QuoteView['against']> }) {
  const more = against.actual.amount - against.quoted.amount;
  const apart = { ...against.actual, amount: Math.abs(more) };
  return (
    <section className={styles.part} aria-label="Actual against quoted">
      <h3>What it took, against what was quoted</h3>
      {against.numbers.length > 1 ? (
        <p className={styles.soft}>
          Quotes {against.numbers.join(', ')} together: work is booked on the job.
        </p>
      ) : null}
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Work and parts</th>
            <th scope="col" className={styles.right}>
              Quoted
            </th>
            <th scope="col" className={styles.right}>
              Booked
            </th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">Labor</th>
            <td className={styles.right}>{minutesWords(against.quotedMinutes)}</td>
            <td className={styles.right}>{minutesWords(against.actualMinutes)}</td>
          </tr>
          {against.parts.map((part) => (
            <tr key={`${part.partNumber} ${part.words}`}>
              <th scope="row">
                {part.words} {part.partNumber ? <code>{part.partNumber}</code> : null}
              </th>
              <td className={styles.right}>{part.quoted === '0' ? 'not quoted' : part.quoted}</td>
              <td className={styles.right}>{part.used === 0 ? 'none' : part.used}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr className={styles.total}>
            <th scope="row">
              Labor and parts before tax
              {more === 0 ? '' : ` · ${moneyWords(apart)} ${more > 0 ? 'more' : 'less'} than quoted`}
            </th>
            <td className={styles.right}>{moneyWords(against.quoted)}</td>
            <td className={styles.right}>{moneyWords(against.actual)}</td>
          </tr>
        </tfoot>
      </table>
      {against.unpriced.length > 0 ? (
        <p className={styles.soft}>Without a price, and so not counted: {against.unpriced.join(', ')}.</p>
      ) : null}
    </section>
  );
}
