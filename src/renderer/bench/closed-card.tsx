import type { ConcernView, Ranking } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { TallyMarks } from '../pieces/tally-marks.tsx';
import { say } from '../session/notices.ts';
import { apartWords, classifyWords, comebackStates, proofWords } from '../words/labels.ts';
import { whenWords } from '../words/time.ts';
import { minutesWords } from '../words/units.ts';
import styles from './closed-card.module.css';
import type { JobDesk } from './use-job.ts';

interface Props {
  desk: JobDesk;
  concern: ConcernView;
  ranking: Ranking | null;
  /** The ranking before it was closed here; null when it was closed at another time. */
  before: Ranking | null;
}

function CountsNow({ concern, ranking, before }: Omit<Props, 'desk'>) {
  const was = (causeId: string) => before?.causes.find((cause) => cause.causeId === causeId);
  const moved = ranking?.causes.filter((cause) => concern.causes.includes(cause.title)) ?? [];
  if (moved.length === 0) return null;
  return (
    <div className={styles.counts}>
      <h4>The book now counts</h4>
      {moved.map((cause) => (
        <p key={cause.causeId} className={styles.count}>
          <TallyMarks count={cause.confirmed.all} />
          <span>
            {cause.title}: {cause.confirmed.all} of {cause.of.all} jobs
            {was(cause.causeId)
              ? ` (${was(cause.causeId)?.confirmed.all} of ${was(cause.causeId)?.of.all} before)`
              : ''}
          </span>
        </p>
      ))}
    </div>
  );
}

/** The manager's word on a concern that came back. */
function Comeback({ desk, concern }: { desk: JobDesk; concern: ConcernView }) {
  const { comeback } = concern;
  if (!comeback) return null;
  return (
    <div className={styles.counts}>
      <h4>Comeback of job {comeback.ofJobNumber}</h4>
      <p>
        {comeback.why} Now: {comebackStates[comeback.state]}.
      </p>
      <div className={styles.words}>
        {(Object.keys(classifyWords) as (keyof typeof classifyWords)[]).map((as) => (
          <button
            key={as}
            type="button"
            className={styles.word}
            aria-pressed={comeback.classified === as}
            disabled={desk.isBusy}
            onClick={() =>
              void desk.run('jobs.classify', {
                concernId: concern.concernId,
                as: comeback.classified === as ? null : as,
              })
            }
          >
            {classifyWords[as]}
          </button>
        ))}
      </div>
    </div>
  );
}

/** A closed concern: what it was, how it was proven, and what that did to the counts. */
export function ClosedCard({ desk, concern, ranking, before }: Props) {
  const { closing, concernId } = concern;
  if (!closing) return null;
  const reopen = async (): Promise<void> => {
    const after = await desk.run('jobs.reopen', { concernId });
    if (!after) return;
    say('The concern is open again; its count was taken back.', {
      label: 'Close it as it was',
      run: () => void desk.run('jobs.close', { concernId, closing }),
    });
  };
  const isProven = closing.kind === 'proven';
  return (
    <article className={styles.card}>
      <p className={styles.kind}>{isProven ? proofWords[closing.proof] : 'Closed without a cause'}</p>
      <h3>{isProven ? concern.causes.join(' and ') : apartWords[closing.kind]}</h3>
      {isProven && closing.retest ? <p>Retest: {closing.retest}</p> : null}
      {isProven && closing.parts?.length ? (
        <ul className={styles.parts}>
          {closing.parts.map((part) => (
            <li key={`${part.description}${part.partNumber ?? ''}${part.supplier ?? ''}`}>
              {part.quantity} × {part.description}
              {part.partNumber ? <code> {part.partNumber}</code> : null}
              {part.supplier ? ` from ${part.supplier}` : ''}
            </li>
          ))}
        </ul>
      ) : null}
      {closing.note ? <p>{closing.note}</p> : null}
      <p className={styles.soft}>
        {concern.closedAt ? `Closed ${whenWords(concern.closedAt)}` : ''}
        {closing.minutes === undefined ? '' : ` · ${minutesWords(closing.minutes)}`}
      </p>
      <CountsNow concern={concern} ranking={ranking} before={before} />
      <Comeback desk={desk} concern={concern} />
      <div className={styles.actions}>
        <Button disabled={desk.isBusy} onClick={() => void reopen()}>
          Open this concern again
        </Button>
      </div>
    </article>
  );
}
