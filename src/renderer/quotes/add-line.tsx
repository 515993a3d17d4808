import { useState } from 'react';
import type { NewQuoteLine } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { newId } from '../session/new-id.ts';
import { moneyField } from '../words/money.ts';
import styles from './quotes.module.css';

interface Props {
  currency: string;
  isBusy: boolean;
  onAdd: (line: NewQuoteLine) => Promise<boolean>;
}

/** A part by its number with Enter, or a line in words with its price. */
export function AddLine({ currency, isBusy, onAdd }: Props) {
  const [words, setWords] = useState('');
  const [price, setPrice] = useState('');
  const [note, setNote] = useState('');
  const [problem, setProblem] = useState<unknown>(null);
  const unitPrice = price.trim().replace(',', '.');

  const lineOf = async (): Promise<NewQuoteLine | string> => {
    const typed = words.trim();
    const common = { lineId: newId(), quantity: '1' };
    if (unitPrice !== '')
      return /^\d{1,9}(\.\d{1,6})?$/.test(unitPrice)
        ? { ...common, kind: 'fee', words: typed, unitPrice }
        : `“${price}” is no price; write it such as 12.50.`;
    const { parts } = await client.call('parts.find', { text: typed, limit: 2 });
    const [part, another] = parts;
    if (!part) return `No part fits “${typed}”. Give a price to add it as a line in words.`;
    if (another) return `More than one part fits “${typed}”. Give the whole number.`;
    const found = part.prices.find(({ price: each }) => each.currency === currency);
    if (!found) return `${part.partNumber} has no price in ${currency}. Give one.`;
    return {
      ...common,
      kind: 'part',
      words: part.title,
      partNumber: part.partNumber,
      unitPrice: moneyField(found.price),
    };
  };
  const add = async (): Promise<void> => {
    setProblem(null);
    setNote('');
    try {
      const line = await lineOf();
      if (typeof line === 'string') setNote(line);
      else if (await onAdd(line)) {
        setWords('');
        setPrice('');
      }
    } catch (error) {
      setProblem(error);
    }
  };
  return (
    <form
      className={styles.part}
      onSubmit={(event) => {
        event.preventDefault();
        if (words.trim() !== '' && !isBusy) void add();
      }}
    >
      <div className={styles.grid}>
        <Field label="Part number or barcode, or words">
          {(ids) => (
            <input
              {...ids}
              maxLength={200}
              value={words}
              onChange={(event) => setWords(event.target.value)}
            />
          )}
        </Field>
        <Field label={`Price in ${currency}, only for words`}>
          {(ids) => (
            <input
              {...ids}
              inputMode="decimal"
              maxLength={12}
              value={price}
              onChange={(event) => setPrice(event.target.value)}
            />
          )}
        </Field>
      </div>
      <ProblemNote problem={problem} />
      {note ? <p role="alert">{note}</p> : null}
      <div className={styles.line}>
        <Button type="submit" disabled={words.trim() === '' || isBusy}>
          Add the line
        </Button>
      </div>
    </form>
  );
}
