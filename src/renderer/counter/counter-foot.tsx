import { useCallback, useEffect, useState } from 'react';
import { useNavigate } from 'react-router';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { whenWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import styles from './counter-foot.module.css';
import type { Intake } from './intake.ts';
import { openJob } from './open-job.ts';
import type { IntakeDesk } from './use-intake.ts';

function summaryOf(intake: Intake): string {
  const { vehicle } = intake;
  const plate = vehicle?.kind === 'known' ? vehicle.vehicle.plate : vehicle?.form.plate;
  const parts = [
    vehicle ? plate || 'vehicle without plate' : 'no vehicle yet',
    countWords(intake.concerns.length, 'concern'),
    intake.promiseAt ? `promised for ${whenWords(intake.promiseAt)}` : 'no promise time',
  ];
  return parts.join(' · ');
}

/** The foot of the Counter: what is on the card, and the one copper button. */
export function CounterFoot({ desk, isTyping }: { desk: IntakeDesk; isTyping: boolean }) {
  const { intake, clear, setFields } = desk;
  const navigate = useNavigate();
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const canOpen = intake.concerns.length > 0 && !isBusy;

  const open = useCallback(async (): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      const job = await openJob(intake);
      clear();
      void navigate(`/bench/${job.number}`);
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  }, [intake, clear, navigate]);

  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey) || !canOpen || isTyping) return;
      event.preventDefault();
      void open();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [canOpen, isTyping, open]);

  const startOver = (): void => {
    const before = intake;
    clear();
    say('The card was cleared.', { label: 'Bring it back', run: () => setFields(before) });
  };

  const isEmpty = intake.vehicle === null && intake.concerns.length === 0;
  return (
    <div className={styles.foot}>
      <p className={styles.summary}>{isEmpty ? 'Nothing on the card yet.' : summaryOf(intake)}</p>
      <ProblemNote problem={problem} />
      <div className={styles.actions}>
        {isEmpty ? null : <Button onClick={startOver}>Start over</Button>}
        <Button look="main" onClick={() => void open()} disabled={!canOpen} aria-keyshortcuts="Control+Enter">
          Open the job card
        </Button>
      </div>
    </div>
  );
}
