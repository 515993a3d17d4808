import { type KeyboardEvent, useCallback, useEffect, useRef } from 'react';
import { Link, useSearchParams } from 'react-router';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { onAddKey } from '../quotes/add-to-quote.tsx';
import { useOpenQuote } from '../quotes/open-quote.ts';
import { useAddPart } from '../quotes/use-add-part.ts';
import { useRead } from '../session/use-read.ts';
import { FitPanel } from './fit-panel.tsx';
import { PartDetail } from './part-detail.tsx';
import { PartTable } from './part-table.tsx';
import styles from './parts.module.css';
import { usePartSearch } from './use-part-search.ts';

/** The parts of the shop: one field finds them, beside it what fits a machine. */
export function PartsScreen() {
  const [params, setParams] = useSearchParams();
  const input = useRef<HTMLInputElement>(null);
  const change = useCallback(
    (next: Readonly<Record<string, string | null>>): void =>
      setParams(
        (before) => {
          for (const [name, value] of Object.entries(next)) {
            if (value) before.set(name, value);
            else before.delete(name);
          }
          return before;
        },
        { replace: true },
      ),
    [setParams],
  );
  const open = useCallback((partNumber: string): void => change({ part: partNumber }), [change]);
  const search = usePartSearch(open);
  const part = params.get('part');
  const vehicleId = params.get('vehicle') ?? undefined;
  const forWhom = params.get('for') ?? undefined;
  const known = useRead('vehicles.get', vehicleId ? { vehicleId } : null);
  const vehicle = vehicleId ? known.data?.vehicle : undefined;
  // Parts that are found here go onto a quote without a job, for whom is at the Counter.
  const target = { vehicleId, forWhom };
  const adding = useAddPart(target);
  const onto = useOpenQuote();

  useEffect(() => input.current?.focus(), []);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault();
      search.move(event.key === 'ArrowDown' ? 1 : -1);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      void search.take();
      // The next scan takes the place of this one.
      input.current?.select();
    } else if (event.key === 'Escape') {
      search.type('');
    } else if (event.key === '+') {
      // No part number has a plus: the key puts the marked part onto the quote at hand, else the one that is open.
      event.preventDefault();
      const marked = search.isFresh ? search.chosen?.partNumber : undefined;
      const wanted = search.typed ? marked : (part ?? undefined);
      if (wanted) void adding.add(wanted);
      input.current?.select();
    }
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a key for the buttons inside, which work without it
    <div className={styles.page} onKeyDown={onAddKey}>
      <div className={styles.head}>
        <h1>Parts</h1>
        <Link to="/counter">Back to the Counter</Link>
        {onto ? <Link to={`/counter/quotes/${onto.quoteId}`}>Quote {onto.number}</Link> : null}
        <Link to="/counter/parts/stock">Orders and shelf</Link>
        <Link to="/counter/parts/new">New part</Link>
        <Link to="/counter/parts/import">Bring in a price list</Link>
      </div>
      {vehicle || forWhom ? (
        <p className={styles.line}>
          <span>
            For{' '}
            <b>
              {vehicle
                ? [vehicle.customer?.name, vehicle.plate ?? 'no plate', vehicle.modelTitle, vehicle.year]
                    .filter(Boolean)
                    .join(' · ')
                : forWhom}
            </b>
          </span>
          <Button size="row" look="quiet" onClick={() => change({ vehicle: null, for: null })}>
            For nobody in particular
          </Button>
        </p>
      ) : null}
      <input
        ref={input}
        className={styles.field}
        aria-label="Part number, words, or a scanned barcode"
        aria-describedby="parts-count"
        placeholder="Part number, words, or a scanned barcode"
        autoComplete="off"
        spellCheck={false}
        maxLength={200}
        value={search.text}
        onChange={(event) => search.type(event.target.value)}
        onKeyDown={onKeyDown}
      />
      <p id="parts-count" role="status" className={styles.soft}>
        {search.typed && search.parts.length > 0
          ? `${search.parts.length === 40 ? 'The first 40' : search.parts.length} found; ${search.chosen?.partNumber} is marked. Up and down move, Enter opens it, plus adds it to the quote.`
          : 'Spaces, dashes and leading zeros in a number do not matter.'}
      </p>
      <ProblemNote problem={search.problem} />
      <div className={styles.columns}>
        <section className={styles.side} aria-label="Found parts">
          {search.note ? <p role="alert">{search.note}</p> : null}
          {search.parts.length > 0 ? (
            <PartTable parts={search.parts} chosen={search.chosen?.partNumber} onOpen={open} />
          ) : null}
          {search.typed && search.isFresh && search.parts.length === 0 ? (
            <Empty title={`Nothing fits “${search.typed}”.`}>
              Type fewer words or part of the number, or choose the machine and the part beside.
            </Empty>
          ) : null}
          {!search.typed ? (
            <Empty title="Find a part by anything that stands on it.">
              Type or scan above, or choose the machine and the part beside.
            </Empty>
          ) : null}
        </section>
        <div className={styles.side}>
          {part ? <PartDetail partNumber={part} target={target} onOpen={open} /> : null}
          <FitPanel
            key={vehicle?.vehicleId}
            modelId={params.get('model')}
            vehicle={vehicle}
            kind={params.get('kind')}
            target={target}
            onChange={change}
            onOpen={open}
          />
        </div>
      </div>
    </div>
  );
}
