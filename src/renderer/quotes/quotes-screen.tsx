import { useEffect, useRef, useState } from 'react';
import { Link, useNavigate, useParams } from 'react-router';
import type { ProcedureName } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { newId } from '../session/new-id.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { moneyWords } from '../words/money.ts';
import { dayWords } from '../words/time.ts';
import { openQuoteOf, setOpenQuote, useOpenQuote } from './open-quote.ts';
import { stateWords } from './quote-labels.ts';
import { QuoteSheet } from './quote-sheet.tsx';
import styles from './quotes.module.css';

const shown: readonly ProcedureName[] = ['quotes.list'];

/** All quotes, and those that are not for a job: opened, or written from nothing. */
export function QuotesScreen() {
  const { quoteId } = useParams();
  const navigate = useNavigate();
  const list = useRead('quotes.list', { limit: 200 });
  const draft = useWrite('quotes.draft', shown);
  const head = useRef<HTMLHeadingElement>(null);
  const quotes = list.data?.quotes ?? [];
  const chosen = quotes.find((each) => each.quoteId === quoteId);
  const open = useOpenQuote();
  const [wanted, setWanted] = useState('');
  const words = wanted.toLowerCase().split(/\s+/).filter(Boolean);
  const fitting = quotes.filter((each) => {
    const said = `${each.number} ${each.title} ${each.whose} ${each.jobNumber === null ? '' : `job ${each.jobNumber}`}`;
    return words.every((word) => said.toLowerCase().includes(word));
  });
  useEffect(() => {
    if (quoteId) head.current?.focus();
  }, [quoteId]);
  const write = async (): Promise<void> => {
    const made = await draft.run({ quoteId: newId() });
    if (!made) return;
    setOpenQuote(openQuoteOf(made));
    void navigate(`/counter/quotes/${made.quoteId}`);
  };
  return (
    <div className={styles.page}>
      <div className={styles.head}>
        <h1 ref={head} tabIndex={-1}>
          Quotes
        </h1>
        <Link to="/counter">Back to the Counter</Link>
        <Link to="/counter/parts">Find parts</Link>
        {quoteId ? <Link to="/counter/quotes">All quotes</Link> : null}
        <Button size="row" disabled={draft.isBusy} onClick={() => void write()}>
          New quote without a job
        </Button>
      </div>
      <ProblemNote problem={list.error ?? draft.problem} />
      {quoteId ? (
        <>
          {chosen?.state === 'draft' && chosen.jobId === null ? (
            <p className={styles.soft}>
              {open?.quoteId === quoteId ? (
                'Parts that are added at the Counter go onto this quote.'
              ) : (
                <Button size="row" onClick={() => setOpenQuote(openQuoteOf(chosen))}>
                  Let parts found at the Counter go onto this quote
                </Button>
              )}
            </p>
          ) : null}
          <QuoteSheet key={quoteId} quoteId={quoteId} />
        </>
      ) : null}
      {!quoteId && list.isPending ? <Waiting what="Getting the quotes" /> : null}
      {!quoteId && list.isSuccess && quotes.length === 0 ? (
        <Empty title="No quotes yet.">
          Write one here without a job, find a part and press plus, or open one from a job card.
        </Empty>
      ) : null}
      {!quoteId && quotes.length > 0 ? (
        <Field label="Find a quote by name, plate, number or heading">
          {(ids) => (
            <input
              {...ids}
              value={wanted}
              maxLength={80}
              autoComplete="off"
              onChange={(event) => setWanted(event.target.value)}
            />
          )}
        </Field>
      ) : null}
      {!quoteId && quotes.length > 0 && fitting.length === 0 ? (
        <p role="status">No quote fits “{wanted.trim()}”.</p>
      ) : null}
      {!quoteId && fitting.length > 0 ? (
        <table className={styles.table}>
          <caption>Newest first</caption>
          <thead>
            <tr>
              <th scope="col">Quote</th>
              <th scope="col">For</th>
              <th scope="col">State</th>
              <th scope="col">Made</th>
              <th scope="col" className={styles.right}>
                The customer pays
              </th>
            </tr>
          </thead>
          <tbody>
            {fitting.map((each) => (
              <tr key={each.quoteId}>
                <th scope="row">
                  <Link
                    to={
                      each.jobNumber === null
                        ? `/counter/quotes/${each.quoteId}`
                        : `/bench/${each.jobNumber}/quote?quote=${each.quoteId}`
                    }
                  >
                    {each.number}
                    {each.title ? ` ${each.title}` : ''}
                  </Link>
                </th>
                <td>
                  {[each.whose, each.jobNumber === null ? 'no job' : `job ${each.jobNumber}`]
                    .filter(Boolean)
                    .join(' · ')}
                </td>
                <td>{stateWords[each.state]}</td>
                <td>{dayWords(each.madeAt)}</td>
                <td className={styles.right}>{moneyWords(each.total)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
    </div>
  );
}
