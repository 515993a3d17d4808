import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { newId } from '../session/new-id.ts';
import styles from './close-dialog.module.css';
import type { PartLine } from './closing-form.ts';

interface Props {
  parts: readonly PartLine[];
  /** What the book says this repair takes. */
  offers: readonly { kind: string; quantity: number; title: string }[];
  onChange: (parts: readonly PartLine[]) => void;
}

const line = (description: string, kind: string | null, quantity: number): PartLine => ({
  key: newId(),
  description,
  kind,
  partNumber: '',
  supplier: '',
  quantity: String(quantity),
});

/** The parts that were fitted, with where they came from: a bad batch shows only if the supplier is known. */
export function PartsUsed({ parts, offers, onChange }: Props) {
  const set = (key: string, fields: Partial<PartLine>): void =>
    onChange(parts.map((part) => (part.key === key ? { ...part, ...fields } : part)));
  const open = offers.filter(({ kind }) => !parts.some((part) => part.kind === kind));
  return (
    <fieldset>
      <legend className={styles.head}>Parts used</legend>
      {parts.map((part) => (
        <div key={part.key} className={styles.part}>
          <Field label="Count">
            {(ids) => (
              <input
                {...ids}
                inputMode="numeric"
                maxLength={3}
                value={part.quantity}
                onChange={(event) => set(part.key, { quantity: event.target.value })}
              />
            )}
          </Field>
          <Field label="Part">
            {(ids) => (
              <input
                {...ids}
                maxLength={200}
                value={part.description}
                onChange={(event) => set(part.key, { description: event.target.value })}
              />
            )}
          </Field>
          <Field label="Number">
            {(ids) => (
              <input
                {...ids}
                maxLength={60}
                value={part.partNumber}
                onChange={(event) => set(part.key, { partNumber: event.target.value })}
              />
            )}
          </Field>
          <Field label="Supplier">
            {(ids) => (
              <input
                {...ids}
                maxLength={80}
                value={part.supplier}
                onChange={(event) => set(part.key, { supplier: event.target.value })}
              />
            )}
          </Field>
          <Button look="quiet" onClick={() => onChange(parts.filter(({ key }) => key !== part.key))}>
            Remove
          </Button>
        </div>
      ))}
      <div className={styles.offers}>
        {open.map((offer) => (
          <Button
            key={offer.kind}
            onClick={() => onChange([...parts, line(offer.title, offer.kind, offer.quantity)])}
          >
            + {offer.title}
          </Button>
        ))}
        <Button onClick={() => onChange([...parts, line('', null, 1)])}>+ Another part</Button>
      </div>
    </fieldset>
  );
}
