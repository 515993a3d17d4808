import { type RefObject, useState } from 'react';
import type { PartView, ProcedureName } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { newId } from '../session/new-id.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { moneyWords } from '../words/money.ts';
import { type DraftLine, numberText } from './draft-lines.ts';
import styles from './quotes.module.css';
import { isOutOfUse } from './use-add-part.ts';

type Kind = DraftLine['kind'];
const kinds: readonly (readonly [Kind, string])[] = [
  ['part', 'Part'],
  ['labor', 'Labor'],
  ['fee', 'Fee'],
  ['deposit', 'Deposit for the old part'],
];
const shown: readonly ProcedureName[] = ['quotes.get', 'quotes.list'];
const offered = 6;

interface Props {
  quoteId: string;
  currency: string;
  options: readonly { readonly optionId: string; readonly title: string }[];
  input: RefObject<HTMLInputElement | null>;
  /** Keeps what is typed above; false where it cannot be kept. */
  flush: () => Promise<boolean>;
  onAdd: (line: DraftLine) => void;
}

const bareNumber = (text: string): string =>
  text
    .replaceAll(/[^\p{L}\p{N}]/gu, '')
    .toLowerCase()
    .replace(/^0+/, '');

/** A part by its number or barcode with Enter, labor by its minutes, or a line in words with its price. */
export function AddLine({ quoteId, currency, options, input, flush, onAdd }: Props) {
  const [kind, setKind] = useState<Kind>('part');
  const [words, setWords] = useState('');
  const [number, setNumber] = useState('');
  const [optionId, setOptionId] = useState<string | null>(null);
  const [note, setNote] = useState('');
  const [several, setSeveral] = useState<readonly PartView[]>([]);
  const [problem, setProblem] = useState<unknown>(null);
  /** The part that was last asked for; one out of use is added only when asked for again. */
  const [asked, setAsked] = useState('');
  const settings = useRead('shop.settings', {}, { stale: 60_000 });
  const terms = useRead('quotes.terms', {}, { stale: 60_000 });
  const add = useWrite('quotes.add', shown);
  const isLabor = kind === 'labor';
  const target = options.some((option) => option.optionId === optionId) ? optionId : null;

  const done = (): void => {
    setWords('');
    setNumber('');
    setSeveral([]);
    input.current?.focus();
  };
  const addPart = async (partNumber: string, evenRetired = false): Promise<void> => {
    setAsked(partNumber);
    if (!(await flush())) {
      setNote('First mend the line above that cannot be kept.');
      return;
    }
    const answer = await add.run({
      addId: newId(),
      quoteId,
      partNumber,
      ...(evenRetired ? { evenRetired } : {}),
      ...(target === null ? {} : { optionId: target }),
    });
    if (!answer) return;
    setNote(answer.says);
    done();
  };
  const findPart = async (typed: string): Promise<void> => {
    const { parts, note: why } = await client.call('parts.find', { text: typed, limit: offered });
    const [first] = parts;
    const exact = parts.find((part) => bareNumber(part.partNumber) === bareNumber(typed));
    const one = exact ?? (parts.length === 1 ? first : undefined);
    if (one) await addPart(one.partNumber);
    else if (first) setSeveral(parts);
    else setNote(why ?? `No part fits “${typed}”. Give a price to add it as a line in words.`);
  };
  const submit = async (): Promise<void> => {
    const typed = words.trim();
    const amount = numberText(number);
    setNote('');
    setProblem(null);
    add.forget();
    setSeveral([]);
    if (typed === '' && !isLabor) return;
    if (kind === 'part' && amount === '') return findPart(typed);
    if (!/^\d{1,9}(\.\d{1,6})?$/.test(amount)) {
      setNote(
        isLabor
          ? 'How many minutes? A number such as 25.'
          : `“${number}” is no price; write it such as 12.50.`,
      );
      return;
    }
    onAdd({
      lineId: newId(),
      kind,
      words: typed || 'Labor',
      partNumber: null,
      count: isLabor ? amount : '1',
      unitPrice: isLabor ? (settings.data?.laborRate ?? '0') : amount,
      discount: '',
      taxRateId: kind === 'deposit' ? null : (terms.data?.usualTaxRateId ?? null),
      payer: 'customer',
      optionId: target,
      safety: false,
      causeId: null,
    });
    done();
  };
  return (
    <form
      className={styles.part}
      aria-label="Add a line"
      onSubmit={(event) => {
        event.preventDefault();
        if (!add.isBusy) void submit().catch(setProblem);
      }}
    >
      <div className={styles.add}>
        <Field label="Add">
          {(ids) => (
            <select {...ids} value={kind} onChange={(event) => setKind(event.target.value as Kind)}>
              {kinds.map(([each, title]) => (
                <option key={each} value={each}>
                  {title}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field label={kind === 'part' ? 'Number, barcode or words' : 'Words'}>
          {(ids) => (
            <input
              {...ids}
              ref={input}
              maxLength={200}
              autoComplete="off"
              spellCheck={false}
              value={words}
              onChange={(event) => setWords(event.target.value)}
            />
          )}
        </Field>
        <Field
          label={
            isLabor
              ? 'Minutes'
              : kind === 'part'
                ? `Price, ${currency}, if not in the catalog`
                : `Price, ${currency}`
          }
        >
          {(ids) => (
            <input
              {...ids}
              inputMode="decimal"
              maxLength={16}
              value={number}
              onChange={(event) => setNumber(event.target.value)}
            />
          )}
        </Field>
        {options.length > 0 ? (
          <Field label="In which option">
            {(ids) => (
              <select
                {...ids}
                value={target ?? ''}
                onChange={(event) => setOptionId(event.target.value || null)}
              >
                <option value="">Every option</option>
                {options.map((option) => (
                  <option key={option.optionId} value={option.optionId}>
                    {option.title}
                  </option>
                ))}
              </select>
            )}
          </Field>
        ) : null}
        <Button type="submit" disabled={add.isBusy}>
          Add the line
        </Button>
      </div>
      <ProblemNote problem={problem ?? add.problem} />
      {isOutOfUse(add.problem) ? (
        <p>
          <Button size="row" disabled={add.isBusy} onClick={() => void addPart(asked, true)}>
            Add {asked} all the same
          </Button>
        </p>
      ) : null}
      <p role="status">{note}</p>
      {several.length > 0 ? (
        <ul className={styles.line} aria-label="Which part">
          {several.map((part) => (
            <li key={part.partNumber}>
              <Button size="row" onClick={() => void addPart(part.partNumber)}>
                {part.partNumber} {part.title}
                {part.prices[0] ? ` · ${moneyWords(part.prices[0].price)}` : ' · no price'}
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
    </form>
  );
}
