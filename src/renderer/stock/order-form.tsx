import { type FormEvent, useState } from 'react';
import { readWhole } from '../part-upkeep/read-whole.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { isOutOfUse } from '../quotes/use-add-part.ts';
import { say } from '../session/notices.ts';
import { useDraft } from '../session/use-draft.ts';
import { useRead } from '../session/use-read.ts';
import { fromField } from '../words/time.ts';
import styles from './stock.module.css';
import { useStock } from './use-stock.ts';

interface Props {
  partNumber: string;
  /** Left out: for the shelf. */
  jobId?: string;
  /** Where it is cheapest at present. */
  supplierId?: string | undefined;
  quantity?: number;
  onDone: () => void;
}

interface NewOrder {
  readonly from: string;
  readonly many: string;
  readonly expected: string;
}

/** Notes that a part is on order: where, how many, when it should come. */
export function OrderForm({ partNumber, jobId, supplierId, quantity = 1, onDone }: Props) {
  const suppliers = useRead('parts.suppliers', {});
  const stock = useStock();
  const draft = useDraft<NewOrder>(`${jobId ? `job/${jobId}` : 'shelf'}/order/${partNumber}`, {
    from: supplierId ?? '',
    many: String(quantity),
    expected: '',
  });
  const { from, many, expected } = draft.value;
  const set = (fields: Partial<NewOrder>): void => draft.set((before) => ({ ...before, ...fields }));
  const [slip, setSlip] = useState<unknown>(null);
  const send = async (evenRetired = false): Promise<void> => {
    setSlip(null);
    let pieces: number;
    try {
      pieces = readWhole(many, 'Pieces', 'a number of pieces such as 2') ?? 1;
    } catch (error) {
      setSlip(error);
      return;
    }
    const expectedAt = expected === '' ? null : fromField(`${expected}T12:00`);
    const order = await stock.run('stock.order', (orderId) => ({
      orderId,
      partNumber,
      quantity: pieces,
      supplierId: from,
      ...(jobId ? { jobId } : {}),
      ...(expectedAt ? { expectedAt } : {}),
      ...(evenRetired ? { evenRetired } : {}),
    }));
    if (!order) return;
    draft.clear();
    say(`${order.quantity} × ${order.partNumber} on order at ${order.supplier}.`);
    onDone();
  };
  return (
    <form
      className={styles.form}
      aria-label={`Order ${partNumber}`}
      onSubmit={(event: FormEvent) => {
        event.preventDefault();
        void send();
      }}
    >
      <Field label="Supplier">
        {(ids) => (
          <select {...ids} required value={from} onChange={(event) => set({ from: event.target.value })}>
            <option value="">Choose the supplier</option>
            {(suppliers.data?.suppliers ?? []).map((one) => (
              <option key={one.supplierId} value={one.supplierId}>
                {one.name}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label="Pieces">
        {(ids) => (
          <input
            {...ids}
            inputMode="numeric"
            maxLength={4}
            value={many}
            onChange={(event) => set({ many: event.target.value })}
          />
        )}
      </Field>
      <Field label="Expected on">
        {(ids) => (
          <input
            {...ids}
            type="date"
            value={expected}
            onChange={(event) => set({ expected: event.target.value })}
          />
        )}
      </Field>
      <div className={styles.actions}>
        <Button type="submit" size="row" disabled={stock.isBusy}>
          Note the order
        </Button>
        <Button size="row" look="quiet" onClick={onDone}>
          Leave it
        </Button>
      </div>
      <KeptNote draft={draft} />
      <ProblemNote problem={slip ?? stock.problem} />
      {isOutOfUse(stock.problem) ? (
        <Button size="row" disabled={stock.isBusy} onClick={() => void send(true)}>
          Order it all the same
        </Button>
      ) : null}
    </form>
  );
}
