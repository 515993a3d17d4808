import type { QuoteView } from '../../api/contract.ts';
import { Field } from '../pieces/field.tsx';
import { type Draft, headFaults } from './draft-lines.ts';
import styles from './quotes.module.css';
import type { DraftDesk } from './use-draft.ts';

const today = (): string => {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
};

/** What a draft says beside its lines: the heading, for whom, until when, what is paid ahead, what is taken off. */
export function DraftHead({ quote, desk }: { quote: QuoteView; desk: DraftDesk }) {
  const { draft, change } = desk;
  const faults = headFaults(draft);
  type TextField = Exclude<keyof Draft, 'options' | 'lines'>;
  const set = (field: TextField, value: string): void => change((before) => ({ ...before, [field]: value }));
  return (
    <div className={styles.headFields}>
      <Field label="Heading">
        {(ids) => (
          <input
            {...ids}
            maxLength={200}
            placeholder="Rear brake"
            value={draft.title}
            onChange={(event) => set('title', event.target.value)}
          />
        )}
      </Field>
      {quote.jobId === null ? (
        <Field label="For whom">
          {(ids) => (
            <input
              {...ids}
              maxLength={200}
              placeholder={quote.customer ?? 'Name, machine'}
              value={draft.forWhom}
              onChange={(event) => set('forWhom', event.target.value)}
            />
          )}
        </Field>
      ) : null}
      <Field
        label="Holds until"
        hint={draft.validUntil ? undefined : 'Left empty: the usual number of days.'}
      >
        {(ids) => (
          <input
            {...ids}
            type="date"
            min={today()}
            value={draft.validUntil}
            onChange={(event) => set('validUntil', event.target.value)}
          />
        )}
      </Field>
      <Field label={`Pay before we start, ${quote.currency}`} hint={faults.prepay}>
        {(ids) => (
          <input
            {...ids}
            inputMode="decimal"
            maxLength={16}
            value={draft.prepay}
            onChange={(event) => set('prepay', event.target.value)}
          />
        )}
      </Field>
      <Field label="Off the whole, % before tax" hint={faults.discount}>
        {(ids) => (
          <input
            {...ids}
            inputMode="decimal"
            maxLength={8}
            value={draft.discount}
            onChange={(event) => set('discount', event.target.value)}
          />
        )}
      </Field>
      <Field label="Note to the customer" wide>
        {(ids) => (
          <textarea
            {...ids}
            rows={2}
            maxLength={4000}
            value={draft.note}
            onChange={(event) => set('note', event.target.value)}
          />
        )}
      </Field>
    </div>
  );
}
