import { type FormEvent, useState } from 'react';
import type { PartCard } from '../../api/contract.ts';
import { printedGtin } from '../parts/part-words.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { AttributeFields, attributesOf, type Typed } from './attribute-fields.tsx';
import styles from './part-upkeep.module.css';
import { readWhole } from './read-whole.ts';
import { keepCard } from './use-upkeep.ts';

interface Props {
  /** Null for a new part. */
  card: PartCard | null;
  start: { readonly number: string; readonly title: string };
  who: string;
  onSaved: (card: PartCard) => void;
}

interface Texts {
  number: string;
  title: string;
  kind: string;
  component: string;
  maker: string;
  gtin: string;
  bin: string;
  minimum: string;
}

const textsOf = (card: PartCard | null, start: Props['start']): Texts => ({
  number: card?.partNumber ?? start.number,
  title: card?.title ?? start.title,
  kind: card?.kind ?? '',
  component: card?.componentId ?? '',
  maker: card?.maker ?? '',
  gtin: card?.gtin ? printedGtin(card.gtin) : '',
  bin: card?.bin ?? '',
  minimum: card ? String(card.minimum) : '0',
});

/** A part by itself: number, description, kind, what it states, barcode, its place on the shelf. */
export function PartForm({ card, start, who, onSaved }: Props) {
  const [texts, setTexts] = useState(() => textsOf(card, start));
  const [typed, setTyped] = useState<Typed>(() =>
    Object.fromEntries(Object.entries(card?.attributes ?? {}).map(([name, value]) => [name, String(value)])),
  );
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const kinds = useRead('handbook.browse', { kind: 'part-kind' }, { stale: 60_000 });
  const components = useRead('handbook.browse', { kind: 'component' }, { stale: 60_000 });
  const byTitle = (one: { title: string }, other: { title: string }) => one.title.localeCompare(other.title);
  const set = (part: Partial<Texts>): void => setTexts((before) => ({ ...before, ...part }));
  const line = (key: keyof Texts, label: string, hint?: string, wide = false) => (
    <Field label={label} hint={hint} wide={wide}>
      {(ids) => (
        <input
          {...ids}
          value={texts[key]}
          maxLength={200}
          autoComplete="off"
          onChange={(event) => set({ [key]: event.target.value })}
        />
      )}
    </Field>
  );
  const send = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    setBusy(true);
    setProblem(null);
    try {
      const minimum = readWhole(texts.minimum, 'Least on the shelf', 'a number of pieces such as 2') ?? 0;
      const after = await client.call('parts.save', {
        partNumber: texts.number,
        ...(card ? { ifVersion: card.version } : {}),
        title: texts.title,
        kind: texts.kind,
        componentId: texts.component || null,
        maker: texts.maker,
        attributes: attributesOf(typed),
        gtin: texts.gtin,
        bin: texts.bin,
        minimum,
        who,
      });
      await keepCard(after);
      say(card ? 'Saved.' : `${after.partNumber} is in the catalog.`);
      onSaved(after);
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <form className={styles.card} aria-label="The part" onSubmit={(event) => void send(event)}>
      <div className={styles.fields}>
        {line(
          'number',
          'Number',
          card ? 'Only spaces and dashes can change; another number is another part.' : undefined,
        )}
        {line('maker', 'Maker')}
        {line('title', 'Description', undefined, true)}
        <Field label="Kind">
          {(ids) => (
            <select
              {...ids}
              required
              value={texts.kind}
              onChange={(event) => set({ kind: event.target.value })}
            >
              <option value="">Choose what it is</option>
              {texts.kind === 'unsorted' ? <option value="unsorted">Not sorted yet</option> : null}
              {[...(kinds.data?.entries ?? [])].sort(byTitle).map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field label="Component of the machine">
          {(ids) => (
            <select
              {...ids}
              value={texts.component}
              onChange={(event) => set({ component: event.target.value })}
            >
              <option value="">none</option>
              {[...(components.data?.entries ?? [])].sort(byTitle).map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
            </select>
          )}
        </Field>
        {line('gtin', 'Barcode', 'Scan it, or type its 8, 12, 13 or 14 digits.')}
        {line('bin', 'Bin')}
        {line('minimum', 'Least on the shelf')}
      </div>
      <AttributeFields kind={texts.kind} typed={typed} onChange={setTyped} />
      <ProblemNote problem={problem} />
      <div className={styles.actions}>
        <Button type="submit" look="main" disabled={isBusy}>
          {card ? 'Save the part' : 'Add to the catalog'}
        </Button>
      </div>
    </form>
  );
}
