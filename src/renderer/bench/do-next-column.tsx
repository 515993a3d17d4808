import { useRef } from 'react';
import type { CheckView, ConcernView, Plan, Ranking, Reading } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { newId } from '../session/new-id.ts';
import { minutesWords } from '../words/units.ts';
import { CheckCard } from './check-card.tsx';
import { ClosedCard } from './closed-card.tsx';
import { ContradictionNote } from './contradiction-note.tsx';
import styles from './do-next-column.module.css';
import { NameSymptom } from './name-symptom.tsx';
import { OtherChecks } from './other-checks.tsx';
import type { JobDesk } from './use-job.ts';
import { useNextCard } from './use-next-card.ts';

interface Props {
  desk: JobDesk;
  concern: ConcernView;
  ranking: Ranking | null;
  plan: Plan | null;
  check: CheckView | null;
  /** The ranking before this concern was closed here. */
  before: Ranking | null;
  /** The check that the plan puts first. */
  planned: string | null;
  problem: unknown;
  onCheck: (checkId: string | null) => void;
  onClose: (causeId: string) => void;
}

function titleOf(check: CheckView | null, isPlanned: boolean, isDue: boolean): string {
  if (!check) return 'Do next';
  const time =
    minutesWords(check.minutes) +
    (check.waitMinutes > 0 ? ` and ${minutesWords(check.waitMinutes)} waiting` : '');
  return `${isPlanned ? 'Do next' : 'Your choice'} · ${time}${check.why && !isDue ? ` · ${check.why}` : ''}`;
}

function Steps({
  desk,
  concern,
  ranking,
  plan,
  check,
  onCheck,
  onClose,
}: Omit<Props, 'problem' | 'planned' | 'before'>) {
  const { concernId } = concern;
  const record = async (reading: Reading): Promise<boolean> => {
    const after = await desk.run('jobs.record', { concernId, readingId: newId(), reading });
    if (after) onCheck(null);
    return after !== null;
  };
  const skip = async (why: string): Promise<void> => {
    if (!check) return;
    const after = await desk.run('jobs.skip', { concernId, readingId: newId(), checkId: check.checkId, why });
    if (after) onCheck(null);
  };
  if (!plan) return <Waiting what="Planning the next check" />;
  const isDue = plan.first !== undefined && check?.checkId === plan.first.checkId;
  return (
    <>
      {ranking?.contradiction ? (
        <ContradictionNote
          desk={desk}
          concern={concern}
          contradiction={ranking.contradiction}
          onAgain={onCheck}
        />
      ) : null}
      {plan.conclude ? (
        <div className={styles.conclude}>
          <h3>Enough is known: {plan.conclude.title}</h3>
          <p>{plan.conclude.why}</p>
          <Button look="main" onClick={() => onClose(plan.conclude?.causeId ?? '')}>
            Repair it, then close with this cause
          </Button>
        </div>
      ) : null}
      {plan.first ? (
        <div className={styles.first}>
          <p>
            <strong>First: {plan.first.title}.</strong> {plan.first.because} If not: {plan.first.otherwise}
            {plan.first.elapsedMinutes > 0
              ? ` (${minutesWords(plan.first.elapsedMinutes)} of waiting, not of work.)`
              : ''}
          </p>
        </div>
      ) : null}
      {check ? (
        <CheckCard
          key={`${concernId} ${check.checkId}`}
          check={check}
          jobId={desk.job.jobId}
          concernId={concernId}
          isBusy={desk.isBusy}
          onRecord={record}
          onSkip={(why) => void skip(why)}
        />
      ) : (
        <Empty title="No check of the book is left.">
          Say what you found with “Found it”, or take a reading back below and look again.
        </Empty>
      )}
      <OtherChecks checks={plan.checks} current={check?.checkId ?? null} onCheck={onCheck} />
      {isDue || !check || plan.expectedMinutes <= 0 ? null : (
        <p className={styles.expected}>
          About {minutesWords(plan.expectedMinutes)} to the proven and repaired cause from here.
        </p>
      )}
    </>
  );
}

/** Middle: one card with the one thing to do next. */
export function DoNextColumn(props: Props) {
  const { desk, concern, ranking, check, planned, problem } = props;
  const isPlanned = check?.checkId === planned;
  // Why a check is due first is said in the note above it.
  const isDue = props.plan?.first !== undefined && props.plan.first.checkId === check?.checkId;
  const column = useRef<HTMLElement>(null);
  useNextCard(column, `${concern.concernId} ${concern.state} ${check?.checkId ?? ''}`);
  if (concern.state === 'closed') {
    return (
      <section ref={column} tabIndex={-1} className={styles.column} aria-label="What it was">
        <ColumnTitle>What it was</ColumnTitle>
        <ProblemNote problem={problem} />
        <ClosedCard desk={desk} concern={concern} ranking={ranking} before={props.before} />
      </section>
    );
  }
  return (
    <section ref={column} tabIndex={-1} className={styles.column} aria-label="Do next">
      <ColumnTitle>{titleOf(concern.symptomId ? check : null, isPlanned, isDue)}</ColumnTitle>
      <ProblemNote problem={problem} />
      {concern.symptomId ? (
        <Steps {...props} />
      ) : (
        <NameSymptom key={concern.concernId} desk={desk} concern={concern} />
      )}
    </section>
  );
}
