import { useState } from 'react';
import { Link } from 'react-router';
import type { HeldPartView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { useRead } from '../session/use-read.ts';
import { dayWords } from '../words/time.ts';
import { saveBytes } from './save-bytes.ts';
import styles from './stock.module.css';
import { useStock } from './use-stock.ts';

const whyWords = { core: 'deposit', warranty: 'warranty' } as const;
const stateWords = { held: 'Held here', sent: 'Sent', settled: 'Settled' } as const;
type State = keyof typeof stateWords;
const states = Object.keys(stateWords) as State[];

function Held({ part, showsJob }: { part: HeldPartView; showsJob: boolean }) {
  const stock = useStock();
  const suppliers = useRead('parts.suppliers', {});
  const keep = (change: { state?: State; supplierId?: string }) =>
    stock.run('stock.hold', () => ({
      heldId: part.heldId,
      jobId: part.jobId,
      partNumber: part.partNumber,
      why: part.why,
      words: part.words,
      ...change,
    }));
  return (
    <tr>
      <th scope="row">
        <span className={styles.number}>{part.partNumber}</span> {part.title}
      </th>
      <td>
        {part.supplier ?? (
          <select
            aria-label={`Supplier of ${part.partNumber}`}
            value=""
            disabled={stock.isBusy}
            onChange={(event) => void keep({ supplierId: event.target.value })}
          >
            <option value="">Where it came from</option>
            {(suppliers.data?.suppliers ?? []).map((one) => (
              <option key={one.supplierId} value={one.supplierId}>
                {one.name}
              </option>
            ))}
          </select>
        )}
      </td>
      {showsJob ? (
        <td>
          <Link to={`/bench/${part.jobNumber}/parts`}>job {part.jobNumber}</Link>
        </td>
      ) : null}
      <td>
        {whyWords[part.why]}: {part.words}
        <p className={styles.soft}>since {dayWords(part.madeAt)}</p>
      </td>
      <td>
        <select
          aria-label={`How far it is with ${part.partNumber}`}
          value={part.state}
          disabled={stock.isBusy}
          onChange={(event) => void keep({ state: event.target.value as State })}
        >
          {states.map((state) => (
            <option key={state} value={state}>
              {stateWords[state]}
            </option>
          ))}
        </select>
        <ProblemNote problem={stock.problem} />
      </td>
    </tr>
  );
}

/** Old parts that are held, with a sheet to send along for each supplier. */
export function HeldList({ held, showsJob }: { held: readonly HeldPartView[]; showsJob: boolean }) {
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const open = held.filter((part) => part.state !== 'settled' && part.supplierId !== null);
  const bySupplier = Map.groupBy(open, (part) => part.supplier ?? '');
  const sheet = async (parts: readonly HeldPartView[]): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      const file = await client.call('stock.claim', { heldIds: parts.map((part) => part.heldId) });
      saveBytes(file.fileName, file.base64, 'application/pdf');
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <>
      <div className={styles.scroll}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Old part</th>
              <th scope="col">Supplier</th>
              {showsJob ? <th scope="col">From</th> : null}
              <th scope="col">Why it is held</th>
              <th scope="col">How far</th>
            </tr>
          </thead>
          <tbody>
            {held.map((part) => (
              <Held key={part.heldId} part={part} showsJob={showsJob} />
            ))}
          </tbody>
        </table>
      </div>
      <div className={styles.actions}>
        {[...bySupplier].map(([supplier, parts]) => (
          <Button key={supplier} size="row" disabled={isBusy} onClick={() => void sheet(parts)}>
            Claim sheet for {supplier} ({parts.length})
          </Button>
        ))}
      </div>
      <ProblemNote problem={problem} />
    </>
  );
}
