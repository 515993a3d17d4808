import type { FormEvent } from 'react';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useDraft } from '../session/use-draft.ts';
import { useRead } from '../session/use-read.ts';
import styles from './stock.module.css';
import { useStock } from './use-stock.ts';

interface Props {
  partNumber: string;
  jobId: string;
  onDone: () => void;
}

interface Hold {
  readonly why: 'core' | 'warranty';
  readonly supplierId: string;
  readonly words: string;
}

/** Keeps an old part for its deposit or a warranty claim. */
export function HoldForm({ partNumber, jobId, onDone }: Props) {
  const suppliers = useRead('parts.suppliers', {});
  const stock = useStock();
  const draft = useDraft<Hold>(`job/${jobId}/hold/${partNumber}`, { why: 'core', supplierId: '', words: '' });
  const { why, supplierId, words } = draft.value;
  const set = (fields: Partial<Hold>): void => draft.set((before) => ({ ...before, ...fields }));
  const send = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    const held = await stock.run('stock.hold', (heldId) => ({
      heldId,
      jobId,
      partNumber,
      why,
      words,
      ...(supplierId === '' ? {} : { supplierId }),
    }));
    if (!held) return;
    draft.clear();
    say(`The old ${partNumber} is held.`);
    onDone();
  };
  return (
    <form
      className={styles.form}
      aria-label={`Keep the old ${partNumber}`}
      onSubmit={(event) => void send(event)}
    >
      <Field label="Kept for">
        {(ids) => (
          <select
            {...ids}
            value={why}
            onChange={(event) => set({ why: event.target.value === 'warranty' ? 'warranty' : 'core' })}
          >
            <option value="core">its deposit</option>
            <option value="warranty">a warranty claim</option>
          </select>
        )}
      </Field>
      <Field label="Supplier">
        {(ids) => (
          <select {...ids} value={supplierId} onChange={(event) => set({ supplierId: event.target.value })}>
            <option value="">not known yet</option>
            {(suppliers.data?.suppliers ?? []).map((one) => (
              <option key={one.supplierId} value={one.supplierId}>
                {one.name}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label="What was found">
        {(ids) => (
          <input
            {...ids}
            required
            maxLength={200}
            value={words}
            onChange={(event) => set({ words: event.target.value })}
          />
        )}
      </Field>
      <div className={styles.actions}>
        <Button type="submit" size="row" disabled={stock.isBusy}>
          Hold the old part
        </Button>
        <Button size="row" look="quiet" onClick={onDone}>
          Leave it
        </Button>
      </div>
      <KeptNote draft={draft} />
      <ProblemNote problem={stock.problem} />
    </form>
  );
}
