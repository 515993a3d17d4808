import { type ReactNode, useState } from 'react';
import type { FitView, InputOf, NearMissView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { Tick } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { CompareParts } from './compare-parts.tsx';
import { attributeName, binWords, certaintyWords, priceWords, stockWords } from './part-words.ts';
import styles from './parts.module.css';

/** Near misses that are shown at once: the nearest, which explain most. */
const nearest = 3;

interface Props {
  ask: InputOf<'parts.fit'>;
  onOpen?: (partNumber: string) => void;
  /** What can be done with a part that fits. */
  action?: (fit: FitView) => ReactNode;
}

function Attributes({ part }: { part: FitView | NearMissView }) {
  if (part.attributes.length === 0) return null;
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">Data</th>
          <th scope="col">Required</th>
          <th scope="col">Offered</th>
          <th scope="col">Margin</th>
        </tr>
      </thead>
      <tbody>
        {part.attributes.map((row) => (
          <tr key={row.name}>
            <th scope="row">{attributeName(row.name)}</th>
            <td>{row.required}</td>
            <td>
              {row.offered}
              {'fits' in row && !row.fits ? <b> does not fit</b> : null}
            </td>
            <td>{row.margin}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Name({ part, onOpen }: { part: FitView | NearMissView; onOpen: Props['onOpen'] }) {
  return (
    <>
      {onOpen ? (
        <button type="button" className={styles.open} onClick={() => onOpen(part.partNumber)}>
          {part.partNumber}
        </button>
      ) : (
        <span className={styles.number}>{part.partNumber}</span>
      )}
      <b>{part.title}</b>
    </>
  );
}

const shopLine = (part: FitView | NearMissView): string =>
  `${priceWords(part.price)} · ${stockWords(part.stock)} · bin ${binWords(part.stock)}`;

/** The parts that fit, surest first with the reason, and the ones that nearly do with why not. */
export function FitList({ ask, onOpen, action }: Props) {
  const read = useRead('parts.fit', ask);
  const [picked, setPicked] = useState<readonly string[]>([]);
  const [showsAll, setShowsAll] = useState(false);
  if (read.isPending) return <Waiting what="Looking which parts fit" />;
  if (read.isError) return <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />;
  const { fits, nearMisses } = read.data;
  const all: readonly (FitView | NearMissView)[] = [...fits, ...nearMisses];
  const [left, right] = picked.map((number) => all.find((part) => part.partNumber === number));
  const pick = (part: FitView | NearMissView) =>
    all.length < 2 ? null : (
      <Tick
        label="Compare"
        isOn={picked.includes(part.partNumber)}
        onChange={(isOn) =>
          setPicked((before) =>
            isOn
              ? [...before.slice(-1), part.partNumber]
              : before.filter((number) => number !== part.partNumber),
          )
        }
      />
    );
  return (
    <div className={styles.list}>
      {left && right ? <CompareParts left={left} right={right} onDone={() => setPicked([])} /> : null}
      {fits.length === 0 ? (
        <Empty title="No part is known to fit.">
          Nothing is listed for this machine and nothing is equal by its data. Look at the near misses, or ask
          a supplier.
        </Empty>
      ) : null}
      {fits.map((fit) => (
        <article key={fit.partNumber} className={styles.card}>
          <div className={styles.line}>
            <Name part={fit} onOpen={onOpen} />
            <span className={styles.surety}>{certaintyWords[fit.certainty]}</span>
          </div>
          <p>
            {fit.why}
            {fit.quantity > 1 ? ` ${fit.quantity} are needed.` : ''}
            {fit.position ? ` Position: ${fit.position}.` : ''}
          </p>
          <p>{shopLine(fit)}</p>
          <Attributes part={fit} />
          <div className={styles.line}>
            {pick(fit)}
            {action?.(fit)}
          </div>
        </article>
      ))}
      {nearMisses.length > 0 ? <h3>Near misses</h3> : null}
      {(showsAll ? nearMisses : nearMisses.slice(0, nearest)).map((miss) => (
        <article key={miss.partNumber} className={styles.card}>
          <div className={styles.line}>
            <Name part={miss} onOpen={onOpen} />
            <span className={styles.surety}>Does not fit</span>
          </div>
          <p>{miss.whyNot}</p>
          <p className={styles.soft}>{shopLine(miss)}</p>
          <Attributes part={miss} />
          <div className={styles.line}>{pick(miss)}</div>
        </article>
      ))}
      {nearMisses.length > nearest && !showsAll ? (
        <div>
          <Button size="row" onClick={() => setShowsAll(true)}>
            Show all {nearMisses.length} near misses
          </Button>
        </div>
      ) : null}
    </div>
  );
}
