import type { CheckView, Reading } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { useDraft } from '../session/use-draft.ts';
import { basisWords, plain } from '../words/labels.ts';
import { AnswerButtons } from './answer-buttons.tsx';
import styles from './check-card.module.css';
import { CheckCautions } from './check-cautions.tsx';
import { ControlsToHold } from './controls-to-hold.tsx';
import { JudgedValue } from './judged-value.tsx';
import { NumberEntry } from './number-entry.tsx';
import { type Noted, readingOf } from './typed-number.ts';

interface Props {
  check: CheckView;
  jobId: string;
  /** Names what is typed and not recorded yet. */
  concernId: string;
  isBusy: boolean;
  /** Answers whether it was kept. */
  onRecord: (reading: Reading) => Promise<boolean>;
  onSkip: (why: string) => void;
}

interface Meter {
  readonly typed: string;
  readonly noted: Noted;
}

/** One check: what can hurt, where, what to do, what is healthy, and what each answer means. */
export function CheckCard({ check, jobId, concernId, isBusy, onRecord, onSkip }: Props) {
  const draft = useDraft<Meter>(`concern/${concernId}/check/${check.checkId}`, { typed: '', noted: {} });
  const { typed, noted } = draft.value;
  const record = async (reading: Reading): Promise<void> => {
    if (await onRecord(reading)) draft.clear();
  };
  return (
    <article className={styles.card} aria-label={check.title}>
      <h3>{check.title}</h3>
      <CheckCautions jobId={jobId} cautions={check.cautions} />
      <div className={styles.inside}>
        <p className={styles.meta}>
          {check.place}
          {check.access.length > 0
            ? `${check.place.endsWith('.') ? '' : '.'} To get there: ${check.access.map(plain).join(', ')}.`
            : ''}
        </p>
        {check.steps.length > 1 ? (
          <ol className={styles.steps}>
            {check.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        ) : (
          <p className={styles.only}>{check.steps[0]}</p>
        )}
        <ControlsToHold controls={check.controls} />
      </div>
      <div className={styles.answer}>
        {check.healthy ? (
          <p className={styles.healthy}>
            Healthy: <b>{check.healthy}</b>
          </p>
        ) : null}
        {check.unit ? (
          <NumberEntry
            unit={check.unit}
            title={check.title}
            outcomes={check.outcomes}
            text={typed}
            isBusy={isBusy}
            onText={(text) => draft.set((before) => ({ ...before, typed: text }))}
            onRecord={() => void record(readingOf(check, typed, noted))}
          />
        ) : null}
        <KeptNote draft={draft} />
        <JudgedValue
          check={check}
          typed={typed}
          noted={noted}
          onNoted={(next) => draft.set((before) => ({ ...before, noted: next }))}
        />
        <AnswerButtons
          outcomes={check.outcomes}
          isBusy={isBusy}
          onAnswer={(outcome) => void record({ checkId: check.checkId, outcome })}
        />
      </div>
      <div className={styles.under}>
        <Button look="quiet" disabled={isBusy} onClick={() => onSkip('no tool')}>
          No tool for it
        </Button>
        <Button look="quiet" disabled={isBusy} onClick={() => onSkip('cannot get at it')}>
          Cannot get at it
        </Button>
        <span className={styles.basis}>Basis: {basisWords[check.basis] ?? check.basis}</span>
      </div>
    </article>
  );
}
