import { useEffect, useRef, useState } from 'react';
import { Link } from 'react-router';
import type { ImportReport } from '../../api/contract.ts';
import { WorkBar } from '../first-run/work-bar.tsx';
import { Button } from '../pieces/button.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { countWords } from '../words/units.ts';
import { ChangesTable, RejectsLink } from './changes-table.tsx';
import { ColumnsTable } from './columns-table.tsx';
import { lacking } from './list-columns.ts';
import styles from './price-lists.module.css';
import { type Import, useImport } from './use-import.ts';

function ChooseList(props: { job: Import; supplier: string; onSupplier: (name: string) => void }) {
  const { job, supplier, onSupplier } = props;
  const suppliers = useRead('parts.suppliers', {});
  const asked = useRef(supplier);
  const known = suppliers.data?.suppliers ?? [];
  const isNew =
    supplier.trim() !== '' &&
    suppliers.isSuccess &&
    !known.some((one) => one.name.toLowerCase() === supplier.trim().toLowerCase());
  return (
    <div className={styles.choose}>
      <Field
        label="Supplier"
        hint={isNew ? 'A new supplier.' : 'The columns of a list are remembered for each supplier.'}
      >
        {(ids) => (
          <>
            <input
              {...ids}
              list="known-suppliers"
              value={supplier}
              maxLength={80}
              autoComplete="off"
              disabled={job.isBusy}
              onChange={(event) => onSupplier(event.target.value)}
              onBlur={() => {
                if (asked.current === supplier.trim()) return;
                asked.current = supplier.trim();
                void job.lookAgain();
              }}
            />
            <datalist id="known-suppliers">
              {known.map((one) => (
                <option key={one.supplierId} value={one.name} />
              ))}
            </datalist>
          </>
        )}
      </Field>
      <Field label="Price list" hint="CSV or XLSX, as the supplier sends it.">
        {(ids) => (
          <input
            {...ids}
            type="file"
            accept=".csv,.txt,.tsv,.xlsx"
            disabled={job.isBusy}
            // The same file, mended, can be chosen again.
            onClick={(event) => {
              event.currentTarget.value = '';
            }}
            onChange={(event) => {
              const file = event.target.files?.[0];
              if (file) void job.choose(file);
            }}
          />
        )}
      </Field>
    </div>
  );
}

const sums = ({ counts }: ImportReport): string =>
  `${countWords(counts.rows, 'row')}: ${counts.new.toLocaleString('en-US')} new, ${counts.changed.toLocaleString('en-US')} changed, ${counts.unchanged.toLocaleString('en-US')} unchanged, ${counts.rejected.toLocaleString('en-US')} rejected.`;

/** Brings a supplier's price list in: choose it, say what its columns mean, see what would change, then do it. */
export function PriceListScreen() {
  const [supplier, setSupplier] = useState('');
  const job = useImport(supplier.trim());
  const missing = job.list ? lacking(job.list.places) : null;
  const isReady = job.list !== null && missing === null && supplier.trim() !== '';
  const { trial, result } = job;
  const told = useRef<HTMLElement>(null);
  useEffect(() => {
    if (trial || result) told.current?.scrollIntoView({ block: 'start' });
  }, [trial, result]);
  const nothing = trial !== null && trial.counts.new + trial.counts.changed === 0;
  return (
    <div className={styles.page}>
      <div className={styles.head}>
        <h1>Bring in a price list</h1>
        <Link to="/counter/parts">Back to the parts</Link>
      </div>
      <section className={styles.step} aria-label="The list">
        <h2>1. The list</h2>
        <ChooseList job={job} supplier={supplier} onSupplier={setSupplier} />
        {job.isBusy && !job.list && !job.work ? <Waiting what="Reading the first lines" /> : null}
      </section>
      {job.list ? (
        <section className={styles.step} aria-label="Its columns">
          <h2>2. Its columns</h2>
          <ColumnsTable job={job} />
          <div className={styles.actions}>
            <Button
              look={trial ? 'plain' : 'main'}
              disabled={!isReady || job.isBusy}
              onClick={() => void job.tryOut()}
            >
              See what would change
            </Button>
            {supplier.trim() === '' ? <span>Name the supplier first.</span> : null}
          </div>
        </section>
      ) : null}
      {job.work ? <WorkBar work={job.work} onCancel={job.cancel} /> : null}
      {job.says ? <p role="status">{job.says}</p> : null}
      <ProblemNote problem={job.problem} />
      {trial ? (
        <section ref={told} className={styles.step} aria-label="What would change">
          <h2>3. What would change</h2>
          <p role="status">{sums(trial)} Nothing is written yet.</p>
          <ChangesTable report={trial} />
          <RejectsLink report={trial} />
          <div className={styles.actions}>
            <Button look="main" disabled={job.isBusy || nothing} onClick={() => void job.bring()}>
              {nothing
                ? 'Nothing to bring in'
                : `Bring in ${countWords(trial.counts.new + trial.counts.changed, 'price')}`}
            </Button>
            {trial.counts.rejected > 0 ? (
              <span>Rejected lines stay out; they can follow in a mended list.</span>
            ) : null}
          </div>
        </section>
      ) : null}
      {result ? (
        <section ref={told} className={styles.step} aria-label="Done">
          <h2>The list is in</h2>
          <p role="status">{sums(result)}</p>
          <ChangesTable report={result} />
          <RejectsLink report={result} />
          <p>
            Choose the next list above, or <Link to="/counter/parts">find a part</Link>.
          </p>
        </section>
      ) : null}
    </div>
  );
}
