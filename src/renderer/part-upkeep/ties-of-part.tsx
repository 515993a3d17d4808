import { type FormEvent, useId, useState } from 'react';
import type { PartCard } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import styles from './part-upkeep.module.css';
import { readWhole } from './read-whole.ts';
import { useUpkeep } from './use-upkeep.ts';

interface Props {
  card: PartCard;
  who: string;
}

/** The number of another part, with what the catalog has that begins so. */
export function NumberField(props: { label: string; value: string; onChange: (number: string) => void }) {
  const { label, value, onChange } = props;
  const list = useId();
  const asked = useDelayed(value.trim(), 150);
  const found = useRead('parts.find', asked.length < 2 ? null : { text: asked, limit: 12 }, { keep: true });
  return (
    <Field label={label}>
      {(ids) => (
        <>
          <input
            {...ids}
            list={list}
            value={value}
            maxLength={60}
            autoComplete="off"
            onChange={(event) => onChange(event.target.value)}
          />
          <datalist id={list}>
            {(found.data?.parts ?? []).map((part) => (
              <option key={part.partNumber} value={part.partNumber}>
                {part.title}
              </option>
            ))}
          </datalist>
        </>
      )}
    </Field>
  );
}

/** What takes the place of the number: one part, or the parts of a kit. */
export function ReplacedBy({ card, who }: Props) {
  const upkeep = useUpkeep(card, who);
  const [number, setNumber] = useState('');
  const [quantity, setQuantity] = useState('1');
  const [note, setNote] = useState('');
  const [slip, setSlip] = useState<unknown>(null);
  const present = card.replacedBy.map((one) => ({
    partNumber: one.partNumber,
    quantity: one.quantity,
    note: one.note,
  }));
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    setSlip(null);
    try {
      const many = readWhole(quantity, 'quantity', 'a number of pieces such as 1') ?? 1;
      const done = await upkeep.run('parts.replace', {
        by: [...present, { partNumber: number, quantity: many, note }],
      });
      if (!done) return;
      setNumber('');
      setQuantity('1');
      setNote('');
    } catch (error) {
      setSlip(error);
    }
  };
  return (
    <section className={styles.card} aria-label="What replaces it">
      <h2>What replaces it</h2>
      <p>
        {card.replacedBy.length === 0
          ? 'Nothing: this number is the present one.'
          : card.replacedBy.length > 1
            ? 'These parts together:'
            : 'This part:'}
      </p>
      <ul className={styles.lines}>
        {card.replacedBy.map((one) => (
          <li key={one.partNumber} className={styles.line}>
            <span>
              {one.quantity > 1 ? `${one.quantity} × ` : ''}
              <span className={styles.number}>{one.partNumber}</span> {one.title}
              {one.note ? `, ${one.note}` : ''}
            </span>
            <Button
              size="row"
              look="quiet"
              aria-label={`Take away: ${one.partNumber}`}
              disabled={upkeep.isBusy}
              onClick={() =>
                void upkeep.run('parts.replace', {
                  by: present.filter((other) => other.partNumber !== one.partNumber),
                })
              }
            >
              Take away
            </Button>
          </li>
        ))}
      </ul>
      <form className={styles.inner} aria-label="Replace it" onSubmit={(event) => void add(event)}>
        <div className={styles.fields}>
          <NumberField
            label={card.replacedBy.length === 0 ? 'Number that replaces it' : 'And with it'}
            value={number}
            onChange={setNumber}
          />
          <Field label="Pieces for one">
            {(ids) => (
              <input
                {...ids}
                inputMode="numeric"
                value={quantity}
                onChange={(event) => setQuantity(event.target.value)}
              />
            )}
          </Field>
          <Field label="Note" wide>
            {(ids) => (
              <input
                {...ids}
                maxLength={200}
                value={note}
                onChange={(event) => setNote(event.target.value)}
              />
            )}
          </Field>
        </div>
        <ProblemNote problem={slip ?? upkeep.problem} />
        <div className={styles.actions}>
          <Button type="submit" size="row" disabled={number.trim() === '' || upkeep.isBusy}>
            {card.replacedBy.length === 0 ? 'Replace this number' : 'Add to the kit'}
          </Button>
        </div>
      </form>
    </section>
  );
}

/** The group of parts that can each stand in for another. */
export function EqualParts({ card, who }: Props) {
  const upkeep = useUpkeep(card, who);
  const [number, setNumber] = useState('');
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    if (await upkeep.run('parts.equal', { to: number })) setNumber('');
  };
  return (
    <section className={styles.card} aria-label="Equal parts">
      <h2>Equal parts</h2>
      {card.equalParts.length === 0 ? <p>No part is said to be equal to it.</p> : null}
      <ul className={styles.lines}>
        {card.equalParts.map((one) => (
          <li key={one.partNumber}>
            <span className={styles.number}>{one.partNumber}</span> {one.title}
          </li>
        ))}
      </ul>
      <form className={styles.inner} aria-label="Add an equal part" onSubmit={(event) => void add(event)}>
        <NumberField label="Number of an equal part" value={number} onChange={setNumber} />
        <ProblemNote problem={upkeep.problem} />
        <div className={styles.actions}>
          <Button type="submit" size="row" disabled={number.trim() === '' || upkeep.isBusy}>
            Say that it is equal
          </Button>
          {card.equalParts.length > 0 ? (
            <Button
              size="row"
              look="quiet"
              disabled={upkeep.isBusy}
              onClick={() => void upkeep.run('parts.equal', { to: null })}
            >
              Take this part out of the group
            </Button>
          ) : null}
        </div>
      </form>
    </section>
  );
}
