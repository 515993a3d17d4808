import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { newId } from '../session/new-id.ts';
import { useDraft } from '../session/use-draft.ts';
import { useRead } from '../session/use-read.ts';
import { howWords } from '../words/labels.ts';
import { moneyWords, readMoney } from '../words/money.ts';
import { whenWords } from '../words/time.ts';
import styles from './job-card-drawer.module.css';
import type { JobDesk } from './use-job.ts';

type How = keyof typeof howWords;
interface NewApproval {
  readonly who: string;
  readonly how: How;
  readonly amount: string;
}

/** Who said yes to how much, when and how. */
export function Approvals({ desk }: { desk: JobDesk }) {
  const status = useRead('shop.status', {});
  const currency = status.data?.currency ?? 'USD';
  const draft = useDraft<NewApproval>(`job/${desk.job.jobId}/approval`, {
    who: desk.job.vehicle?.customer?.name ?? '',
    how: 'phone',
    amount: '',
  });
  const { who, how, amount } = draft.value;
  const set = (fields: Partial<NewApproval>): void => draft.set((before) => ({ ...before, ...fields }));
  const money = readMoney(amount, currency);
  const add = async (): Promise<void> => {
    if (!money || who.trim() === '' || desk.isBusy) return;
    const after = await desk.run('jobs.approve', {
      approvalId: newId(),
      who: who.trim(),
      how,
      amount: money,
    });
    if (after) draft.clear();
  };
  return (
    <section className={styles.part}>
      <h3>Approvals</h3>
      <ul>
        {desk.job.approvals.map((approval) => (
          <li key={approval.approvalId} className={styles.line}>
            <span>
              <b>{moneyWords(approval.amount)}</b> by {approval.who}, {howWords[approval.how]}
              {approval.words ? `: ${approval.words}` : ''}
            </span>
            <span className={styles.soft}>{whenWords(approval.at)}</span>
          </li>
        ))}
      </ul>
      {desk.job.approvals.length === 0 ? <p className={styles.soft}>Nothing approved yet.</p> : null}
      <form
        className={styles.grid}
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <Field label="Who says yes">
          {(ids) => (
            <input
              {...ids}
              maxLength={200}
              value={who}
              onChange={(event) => set({ who: event.target.value })}
            />
          )}
        </Field>
        <Field label="How">
          {(ids) => (
            <select {...ids} value={how} onChange={(event) => set({ how: event.target.value as How })}>
              {(Object.keys(howWords) as How[]).map((each) => (
                <option key={each} value={each}>
                  {howWords[each]}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field
          label={`Up to, ${currency}`}
          hint={amount.trim() !== '' && !money ? 'An amount, such as 80 or 79.50.' : undefined}
        >
          {(ids) => (
            <input
              {...ids}
              inputMode="decimal"
              maxLength={12}
              value={amount}
              onChange={(event) => set({ amount: event.target.value })}
            />
          )}
        </Field>
        <Button type="submit" disabled={!money || who.trim() === '' || desk.isBusy}>
          Keep the approval
        </Button>
        <KeptNote draft={draft} />
      </form>
    </section>
  );
}
