import { useRef } from 'react';
import type { QuoteView } from '../../api/contract.ts';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { AddLine } from './add-line.tsx';
import { DraftHead } from './draft-head.tsx';
import { isSendable } from './draft-lines.ts';
import { LinesEditor } from './lines-editor.tsx';
import { OptionTotals } from './option-totals.tsx';
import { OptionsEditor } from './options-editor.tsx';
import styles from './quotes.module.css';
import type { DraftDesk } from './use-draft.ts';

function keptWords(desk: DraftDesk): string {
  if (!isSendable(desk.draft)) return 'Not kept yet: something above cannot be read.';
  if (desk.isSaving || !desk.isKept) return 'Keeping …';
  return 'Kept as it is typed.';
}

/** A draft: everything of it is typed in place and kept by itself. */
export function QuoteEditor({ quote, desk }: { quote: QuoteView; desk: DraftDesk }) {
  const adding = useRef<HTMLInputElement>(null);
  return (
    <div className={styles.part}>
      <LinesEditor quote={quote} desk={desk} onEnd={() => adding.current?.focus()} />
      <AddLine
        quoteId={quote.quoteId}
        currency={quote.currency}
        options={desk.draft.options}
        input={adding}
        flush={desk.flush}
        onAdd={(line) => desk.change((before) => ({ ...before, lines: [...before.lines, line] }), true)}
      />
      <div className={styles.twoSides}>
        <div className={styles.part}>
          <OptionsEditor desk={desk} />
          <DraftHead quote={quote} desk={desk} />
        </div>
        <div className={styles.part}>
          <OptionTotals quote={quote} />
          <p className={styles.soft} role="status">
            {keptWords(desk)}
          </p>
        </div>
      </div>
      <ProblemNote problem={desk.problem} />
    </div>
  );
}
