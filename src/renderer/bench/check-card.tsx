import { useState } from 'react';
import type { CheckView, Reading } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { CautionNote } from '../pieces/signal-word.tsx';
import { basisWords, plain } from '../words/labels.ts';
import { AnswerButtons } from './answer-buttons.tsx';
import styles from './check-card.module.css';
import { ControlsToHold } from './controls-to-hold.tsx';
import { JudgedValue } from './judged-value.tsx';
import { NumberEntry } from './number-entry.tsx';
import { type Noted, readingOf } from './typed-number.ts';

interface Props {
  check: CheckView;
  isBusy: boolean;
  onRecord: (reading: Reading) => void;
  onSkip: (why: string) => void;
}

/** One check: what can hurt, where, what to do, what is healthy, and what each answer means. */
export function CheckCard({ check, isBusy, onRecord, onSkip }: Props) {
  const [typed, setTyped] = useState('');
  const [noted, setNoted] = useState<Noted>({});
  return (
    <article className={styles.card} aria-label={check.title}>
      {check.cautions.map((caution) => (
        <CautionNote key={caution.id} caution={caution} />
      ))}
      <div className={styles.inside}>
        <h3>{check.title}</h3>
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
            onText={setTyped}
            onRecord={() => onRecord(readingOf(check, typed, noted))}
          />
        ) : null}
        <JudgedValue check={check} typed={typed} noted={noted} onNoted={setNoted} />
        <AnswerButtons
          outcomes={check.outcomes}
          isBusy={isBusy}
          onAnswer={(outcome) => onRecord({ checkId: check.checkId, outcome })}
        />
        <div className={styles.under}>
          <Button look="quiet" disabled={isBusy} onClick={() => onSkip('no tool')}>
            No tool for it
          </Button>
          <Button look="quiet" disabled={isBusy} onClick={() => onSkip('cannot get at it')}>
            Cannot get at it
          </Button>
          <span className={styles.basis}>Basis: {basisWords[check.basis] ?? check.basis}</span>
        </div>
      </div>
    </article>
  );
}
