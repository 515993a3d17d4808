import type { Estimate, RankedCause } from '../../api/contract.ts';
import { CauseList } from '../causes/cause-list.tsx';
import { Button } from '../pieces/button.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { moneyWords } from '../words/money.ts';
import { minutesWords, percent } from '../words/units.ts';
import { CauseActions } from './cause-actions.tsx';
import { type Answer, type Intake, modelOf } from './intake.ts';
import styles from './likely-causes.module.css';

interface Props {
  intake: Intake;
  symptomId: string | null;
  title: string | null;
  answers: readonly Answer[];
}

function PriceRange({ estimate }: { estimate: Estimate }) {
  const low = moneyWords(estimate.low, true);
  const high = estimate.high && moneyWords(estimate.high, true);
  const range = high === null ? `from ${low}` : high === low ? `about ${low}` : `${low} to ${high}`;
  const { worst } = estimate;
  return (
    <div className={styles.price}>
      <p className={styles.range}>
        {range}
        {high === null ? <small>upper end open</small> : null}
      </p>
      <p className={styles.words}>Estimate before diagnosis, not a quote</p>
      <table className={styles.outcomes}>
        <caption className="unseen">The likeliest outcomes and their prices</caption>
        <tbody>
          {estimate.likeliest.map((one) => (
            <tr key={one.causeId}>
              <th scope="row">{one.title}</th>
              <td>{percent(one.probability)}</td>
              <td>{moneyWords(one.price, true)}</td>
            </tr>
          ))}
          {worst && !estimate.likeliest.some(({ causeId }) => causeId === worst.causeId) ? (
            <tr>
              <th scope="row">At worst: {worst.title}</th>
              <td />
              <td>{moneyWords(worst.price, true)}</td>
            </tr>
          ) : null}
          <tr>
            <th scope="row">Not in the book</th>
            <td>{percent(estimate.unlisted)}</td>
            <td>open</td>
          </tr>
          <tr>
            <th scope="row">Finding out</th>
            <td />
            <td>{moneyWords(estimate.diagnosisFee, true)}</td>
          </tr>
        </tbody>
      </table>
      <details>
        <summary>In words, to say or to send</summary>
        <p className={styles.words}>{estimate.words}</p>
        <Button
          size="row"
          look="quiet"
          onClick={() =>
            void navigator.clipboard.writeText(estimate.words).then(
              () => say('The estimate was copied.'),
              () => say('It could not be copied; mark the words and copy them by hand.'),
            )
          }
        >
          Copy the words
        </Button>
      </details>
    </div>
  );
}

/** Right: what it is likely to be, from the book and our own jobs, and what that would cost. */
export function LikelyCauses({ intake, symptomId, title, answers }: Props) {
  const modelId = modelOf(intake.vehicle);
  const input = symptomId
    ? { symptomId, ...(modelId ? { modelId } : {}), readings: answers.map(({ reading }) => reading) }
    : null;
  const ranking = useRead('causes.rank', input, { keep: true });
  const estimate = useRead('quotes.estimate', input, { keep: true });
  const priceOf = (cause: RankedCause) =>
    estimate.data?.likeliest.find(({ causeId }) => causeId === cause.causeId)?.price;
  return (
    <section aria-label="Likely causes">
      <ColumnTitle>{title ? `Likely causes · ${title}` : 'Likely causes'}</ColumnTitle>
      {!symptomId ? <Empty title="The causes come up once there is a symptom." /> : null}
      {symptomId && ranking.isPending ? <Waiting what="Ranking the causes" /> : null}
      <ProblemNote problem={ranking.error} onRetry={() => void ranking.refetch()} />
      {symptomId && ranking.data ? (
        <>
          {estimate.data ? <PriceRange estimate={estimate.data} /> : null}
          <ProblemNote problem={estimate.error} />
          <p className={styles.from}>{ranking.data.from}</p>
          {ranking.data.contradiction ? (
            <p className={styles.contradiction}>{ranking.data.contradiction.why}</p>
          ) : null}
          <CauseList
            ranking={ranking.data}
            first={5}
            more={(cause) => {
              const price = priceOf(cause);
              return (
                <>
                  <p className={styles.repair}>
                    {cause.repair} · {minutesWords(cause.minutes)}
                    {price ? ` · about ${moneyWords(price, true)}` : ''}
                  </p>
                  <CauseActions causeId={cause.causeId} title={cause.title} intake={intake} />
                </>
              );
            }}
          />
        </>
      ) : null}
    </section>
  );
}
