import { useLayoutEffect, useRef } from 'react';
import type { QuoteView } from '../../api/contract.ts';
import { say } from '../session/notices.ts';
import { type DraftLine, movedLine } from './draft-lines.ts';
import row from './line-row.module.css';
import { type LineField, LineRow } from './line-row.tsx';
import styles from './quotes.module.css';
import type { DraftDesk } from './use-draft.ts';

interface Props {
  quote: QuoteView;
  desk: DraftDesk;
  /** Down from the last line: to the field that adds one. */
  onEnd: () => void;
}

/** The lines of a draft, in the order in which they are printed. */
export function LinesEditor({ quote, desk, onEnd }: Props) {
  const { draft, change } = desk;
  const list = useRef<HTMLUListElement>(null);
  /** The cell that must have the cursor after the next drawing: a moved line keeps it. */
  const wanted = useRef<string | null>(null);
  useLayoutEffect(() => {
    if (wanted.current === null) return;
    list.current?.querySelector<HTMLInputElement>(`[data-cell="${wanted.current}"]`)?.focus();
    wanted.current = null;
  });
  const setLine = (lineId: string, set: Partial<DraftLine>, atOnce = false): void =>
    change(
      (before) => ({
        ...before,
        lines: before.lines.map((line) => (line.lineId === lineId ? { ...line, ...set } : line)),
      }),
      atOnce,
    );
  const move = (lineId: string, by: 1 | -1, field: LineField): void => {
    wanted.current = `${lineId} ${field}`;
    change((before) => ({ ...before, lines: movedLine(before.lines, lineId, by) }), true);
  };
  const remove = (lineId: string): void => {
    const { lines } = draft;
    const at = lines.findIndex((line) => line.lineId === lineId);
    const line = lines[at];
    if (!line) return;
    const next = lines[at + 1] ?? lines[at - 1];
    if (next) wanted.current = `${next.lineId} words`;
    change((before) => ({ ...before, lines: before.lines.filter((one) => one.lineId !== lineId) }), true);
    say(`“${line.words}” was taken off the quote.`, {
      label: 'Put it back',
      run: () => change((before) => ({ ...before, lines: before.lines.toSpliced(at, 0, line) }), true),
    });
  };
  const down = (lineId: string, field: LineField): void => {
    const next = draft.lines[draft.lines.findIndex((line) => line.lineId === lineId) + 1];
    if (!next) onEnd();
    else list.current?.querySelector<HTMLInputElement>(`[data-cell="${next.lineId} ${field}"]`)?.focus();
  };
  if (draft.lines.length === 0) return <p className={styles.soft}>No lines yet. Add the first one below.</p>;
  return (
    <div className={styles.lines}>
      <div className={row.header} aria-hidden="true">
        <span>Line</span>
        <span className={row.right}>Quantity</span>
        <span className={row.right}>Each</span>
        <span className={row.right}>Less %</span>
        <span>Paid by</span>
        <span className={row.right}>Before tax</span>
        <span />
      </div>
      <ul ref={list} aria-label="Lines of the quote">
        {draft.lines.map((line, at) => (
          <LineRow
            key={line.lineId}
            quote={quote}
            line={line}
            number={at + 1}
            options={draft.options}
            onChange={(set, atOnce) => setLine(line.lineId, set, atOnce)}
            onMove={(by, field) => move(line.lineId, by, field)}
            onDown={(field) => down(line.lineId, field)}
            onRemove={() => remove(line.lineId)}
          />
        ))}
      </ul>
      <p className={styles.keys}>
        Enter goes down · Alt and up or down moves the line · Alt and Delete takes it off
      </p>
    </div>
  );
}
