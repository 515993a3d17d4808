import type { Estimate, RankedCause } from '../../api/contract.ts';
import { CauseList } from '../causes/cause-list.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { moneyWords } from '../words/money.ts';
import { minutesWords } from '../words/units.ts';
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
  return (
    <div className={styles.price}>
      <p className={styles.range}>
        {estimate.high ? `${low} to ${moneyWords(estimate.high, true)}` : `from ${low}`}
        {estimate.high ? null : <small>upper end open</small>}
      </p>
      <p className={styles.words}>{estimate.words}</p>
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
