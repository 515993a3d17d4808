import type { ConcernView, Ranking } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Drawer } from '../pieces/drawer.tsx';
import { Field } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { keepDraft } from '../session/drafts.ts';
import { say } from '../session/notices.ts';
import { useDraft } from '../session/use-draft.ts';
import { CausePicker } from './cause-picker.tsx';
import styles from './close-dialog.module.css';
import { type ClosingForm, closingOf, emptyClosing, missing, withKnown } from './closing-form.ts';
import { PartsUsed } from './parts-used.tsx';
import { ProofPicker } from './proof-picker.tsx';
import type { JobDesk } from './use-job.ts';
import { useRepair } from './use-repair.ts';

interface Props {
  desk: JobDesk;
  concern: ConcernView;
  ranking: Ranking | null;
  /** The cause that was picked before the dialog opened. */
  known: string | null;
  problem: unknown;
  onDone: () => void;
  /** Told right before the concern is closed. */
  onClosing: () => void;
}

/** Closes a concern: the cause, the proof, done. Parts and minutes when there are any. */
export function CloseDialog({ desk, concern, ranking, known, problem, onDone, onClosing }: Props) {
  const name = `concern/${concern.concernId}/close`;
  const draft = useDraft<ClosingForm>(name, emptyClosing(known), (found) => withKnown(found, known));
  const form = draft.value;
  const set = (fields: Partial<ClosingForm>): void => draft.set((before) => ({ ...before, ...fields }));
  const repair = useRepair(form.causeIds[0] ?? null);
  const retest = form.retest ?? repair?.proof ?? '';
  const todo = missing(form, retest);

  const close = async (): Promise<void> => {
    onClosing();
    const after = await desk.run('jobs.close', {
      concernId: concern.concernId,
      closing: closingOf(form, retest),
    });
    if (!after) return;
    draft.clear();
    onDone();
    say('Closed. The tally has moved.', {
      label: 'Undo',
      run: () => {
        // What was filled in is not filled in again.
        keepDraft(name, form);
        void desk.run('jobs.reopen', { concernId: concern.concernId });
      },
    });
  };

  return (
    <Drawer
      title={concern.symptom ? `Close: ${concern.symptom}` : 'Close this concern'}
      isOpen
      onClose={onDone}
    >
      <div className={styles.form}>
        <KeptNote draft={draft} what="what was filled in here" />
        <CausePicker
          causes={ranking?.causes ?? []}
          chosen={form.causeIds}
          words={form.words}
          apart={form.apart}
          onChange={set}
        />
        {form.apart ? null : (
          <>
            <ProofPicker
              proof={form.proof}
              retest={retest}
              isFromBook={form.retest === null && retest !== ''}
              onProof={(proof) => set({ proof })}
              onRetest={(next) => set({ retest: next })}
            />
            <PartsUsed parts={form.parts} offers={repair?.parts ?? []} onChange={(parts) => set({ parts })} />
          </>
        )}
        <div className={styles.row}>
          <Field label="Minutes spent">
            {(ids) => (
              <input
                {...ids}
                inputMode="decimal"
                maxLength={6}
                value={form.minutes}
                onChange={(event) => set({ minutes: event.target.value })}
              />
            )}
          </Field>
          <Field label="Note">
            {(ids) => (
              <input
                {...ids}
                maxLength={4000}
                value={form.note}
                onChange={(event) => set({ note: event.target.value })}
              />
            )}
          </Field>
        </div>
        <ProblemNote problem={problem} />
        <div className={styles.end}>
          <p role="status">{todo ?? ''}</p>
          <Button look="main" disabled={todo !== null || desk.isBusy} onClick={() => void close()}>
            Close the concern
          </Button>
        </div>
      </div>
    </Drawer>
  );
}
