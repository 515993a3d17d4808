import { useCallback, useEffect, useState } from 'react';
import { useNavigate } from 'react-router';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { whenWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import styles from './counter-foot.module.css';
import { type Intake, slipsOf, slipWords } from './intake.ts';
import { openJob } from './open-job.ts';
import { PromiseFields } from './promise-fields.tsx';
import { StillTyped } from './still-typed.tsx';
import type { FieldDesk } from './use-field.ts';
import type { IntakeDesk } from './use-intake.ts';

function summaryOf(intake: Intake): string {
  const { vehicle } = intake;
  const plate = vehicle?.kind === 'known' ? vehicle.vehicle.plate : vehicle?.form.plate;
  const parts = [
    vehicle ? plate || 'vehicle without plate' : 'no vehicle yet',
    intake.concerns.length === 0 ? 'no complaint yet' : countWords(intake.concerns.length, 'concern'),
    intake.promiseAt ? `promised for ${whenWords(intake.promiseAt)}` : 'no promise time',
  ];
  return parts.join(' · ');
}

/** What cannot go onto the card as it is typed, told before anything is opened. */
function slipOf(intake: Intake): { message: string; next: string } | null {
  const [slip] = slipsOf(intake);
  if (!slip) return null;
  const names = { mileage: 'The mileage', upTo: 'The limit of the diagnosis', year: 'The year' };
  return {
    message: `${names[slip]} cannot be read. ${slipWords[slip]}`,
    next: 'Correct it, or empty the field. Nothing was opened yet.',
  };
}

/** The foot of the Counter: what is agreed, what is on the card, and the one copper button. */
export function CounterFoot({ desk, field }: { desk: IntakeDesk; field: FieldDesk }) {
  const { intake, clear, setFields, now } = desk;
  const { settle, typed } = field;
  const navigate = useNavigate();
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const canOpen = (intake.concerns.length > 0 || typed !== '') && !isBusy;

  const open = useCallback(
    async (leaveOff = false): Promise<void> => {
      setBusy(true);
      setProblem(null);
      try {
        if (leaveOff) field.leaveOff();
        else if (!(await settle())) return;
        const card = now();
        const slip = slipOf(card);
        if (slip || card.concerns.length === 0) {
          setProblem(slip);
          return;
        }
        const job = await openJob(card);
        clear();
        void navigate(`/bench/${job.number}`);
      } catch (error) {
        setProblem(error);
      } finally {
        setBusy(false);
      }
    },
    [now, clear, navigate, settle, field.leaveOff],
  );

  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey) || !canOpen) return;
      event.preventDefault();
      void open();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [canOpen, open]);

  const startOver = (): void => {
    const before = intake;
    clear();
    say('The card was cleared.', { label: 'Bring it back', run: () => setFields(before) });
  };

  const isEmpty = intake.vehicle === null && intake.concerns.length === 0;
  return (
    <div className={styles.foot}>
      {isEmpty ? null : <PromiseFields desk={desk} />}
      {field.asking ? <StillTyped field={field} onOpen={(leaveOff) => void open(leaveOff)} /> : null}
      <p className={styles.summary}>
        {isEmpty ? 'Nothing on the card yet.' : summaryOf(intake)}
        {!isEmpty && desk.isKept ? ' · kept from before' : ''}
      </p>
      <ProblemNote problem={problem} />
      <div className={styles.actions}>
        {isEmpty ? null : <Button onClick={startOver}>Start over</Button>}
        <Button look="main" onClick={() => void open()} disabled={!canOpen} aria-keyshortcuts="Control+Enter">
          {isBusy ? 'Opening …' : 'Open the job card'}
        </Button>
      </div>
    </div>
  );
}
