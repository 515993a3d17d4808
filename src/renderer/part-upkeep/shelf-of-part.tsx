import { type FormEvent, useState } from 'react';
import type { PartCard } from '../../api/contract.ts';
import { priceWords, stockWords } from '../parts/part-words.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client, queries } from '../session/client.ts';
import { newId } from '../session/new-id.ts';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { whenWords } from '../words/time.ts';
import styles from './part-upkeep.module.css';
import { readWhole } from './read-whole.ts';
import { partReads, useUpkeep } from './use-upkeep.ts';

interface Props {
  card: PartCard;
  who: string;
}

/** A price as typed, with a comma where people write one. */
const decimal = (text: string): string => text.trim().replace(',', '.');

/** What suppliers ask, and a price typed by hand. */
export function PricesOfPart({ card, who }: Props) {
  const suppliers = useRead('parts.suppliers', {});
  const upkeep = useUpkeep(card, who);
  const [texts, setTexts] = useState({ supplier: '', price: '', core: '' });
  const line = (key: keyof typeof texts, label: string, list?: string) => (
    <Field label={label}>
      {(ids) => (
        <input
          {...ids}
          list={list}
          value={texts[key]}
          maxLength={80}
          autoComplete="off"
          inputMode={key === 'supplier' ? 'text' : 'decimal'}
          onChange={(event) => setTexts((before) => ({ ...before, [key]: event.target.value }))}
        />
      )}
    </Field>
  );
  const send = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    const done = await upkeep.run('parts.setPrice', {
      supplier: texts.supplier,
      price: decimal(texts.price),
      core: decimal(texts.core) || null,
    });
    if (!done) return;
    setTexts({ supplier: '', price: '', core: '' });
    await queries.invalidateQueries({ queryKey: ['parts.suppliers'] });
    say('The price is noted.');
  };
  return (
    <section className={styles.card} aria-label="Prices">
      <h2>Prices</h2>
      {card.prices.length === 0 ? <p>No supplier has a price for it yet.</p> : null}
      <ul className={styles.lines}>
        {card.prices.map((price) => (
          <li key={price.supplierId}>
            {priceWords(price)} <span className={styles.soft}>{price.supplier}</span>
          </li>
        ))}
      </ul>
      <form className={styles.inner} aria-label="New price" onSubmit={(event) => void send(event)}>
        <div className={styles.fields}>
          {line('supplier', 'Supplier', 'price-suppliers')}
          <datalist id="price-suppliers">
            {(suppliers.data?.suppliers ?? []).map((one) => (
              <option key={one.supplierId} value={one.name} />
            ))}
          </datalist>
          {line('price', 'Price, net')}
          {line('core', 'Deposit for the old part')}
        </div>
        <ProblemNote problem={upkeep.problem} />
        <div className={styles.actions}>
          <Button
            type="submit"
            size="row"
            disabled={upkeep.isBusy || texts.supplier.trim() === '' || texts.price.trim() === ''}
          >
            Note this price
          </Button>
        </div>
      </form>
    </section>
  );
}

/** How many lie in the bin, as counted. */
export function CountOfPart({ card }: { card: PartCard }) {
  const part = useRead('parts.get', { partNumber: card.partNumber });
  const [count, setCount] = useState('');
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  // A second click sends the same count again, which changes nothing.
  const [moveId, setMoveId] = useState(newId);
  const send = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    setBusy(true);
    setProblem(null);
    try {
      const onHand = readWhole(count, 'Counted', 'a number of pieces such as 4') ?? 0;
      await client.call('stock.count', { moveId, partNumber: card.partNumber, onHand });
      setMoveId(newId());
      setCount('');
      await Promise.all(partReads.map((name) => queries.invalidateQueries({ queryKey: [name] })));
      say('The count is noted.');
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <section className={styles.card} aria-label="On the shelf">
      <h2>On the shelf</h2>
      <p>
        {stockWords(part.data?.part.stock ?? null)}, bin {card.bin ?? 'none'}, least {card.minimum}.
      </p>
      <form className={styles.withButton} aria-label="Count" onSubmit={(event) => void send(event)}>
        <Field label="Counted">
          {(ids) => (
            <input
              {...ids}
              inputMode="numeric"
              value={count}
              onChange={(event) => setCount(event.target.value)}
            />
          )}
        </Field>
        <Button type="submit" disabled={isBusy || count.trim() === ''}>
          Set the count
        </Button>
      </form>
      <ProblemNote problem={problem} />
    </section>
  );
}

/** Out of use and back, and who changed what. */
export function PastOfPart({ card, who }: Props) {
  const upkeep = useUpkeep(card, who);
  const [why, setWhy] = useState('');
  return (
    <section className={styles.card} aria-label="Use and changes">
      <h2>In use</h2>
      {card.retired ? (
        <p>
          Out of use since {whenWords(card.retired.at)}
          {card.retired.why ? `: ${card.retired.why}` : ''}. It is found, and not offered.
        </p>
      ) : (
        <Field label="Why the shop no longer uses it">
          {(ids) => (
            <input {...ids} maxLength={200} value={why} onChange={(event) => setWhy(event.target.value)} />
          )}
        </Field>
      )}
      <ProblemNote problem={upkeep.problem} />
      <div className={styles.actions}>
        <Button
          size="row"
          disabled={upkeep.isBusy}
          onClick={() => void upkeep.run('parts.retire', { retired: card.retired === null, why })}
        >
          {card.retired ? 'Use it again' : 'Take it out of use'}
        </Button>
      </div>
      <h2>Who changed what</h2>
      {card.changes.length === 0 ? <p>Nobody yet.</p> : null}
      <ul className={styles.lines}>
        {card.changes.map((one) => (
          <li key={`${one.at} ${one.what}`}>
            <span className={styles.soft}>
              {whenWords(one.at)}, {one.who}:
            </span>{' '}
            {one.what}
          </li>
        ))}
      </ul>
    </section>
  );
}
