import { useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { toInstant } from '../words/time.ts';
import { Pick } from './pick.tsx';
import styles from './report.module.css';
import { monthText } from './report-words.ts';
import { saveFile } from './save-file.ts';

/** This month and those before it, as 2026-11. */
function months(count: number, now = new Date()): string[] {
  return Array.from({ length: count }, (_, back) =>
    toInstant(new Date(now.getFullYear(), now.getMonth() - back, 1)).slice(0, 7),
  );
}

/** One month on paper, to hang up or to take along. */
export function MonthPaper() {
  const choices = months(25);
  const [month, setMonth] = useState(choices[1] ?? '');
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<unknown>(null);
  const save = async (): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      const made = await client.call('patterns.monthPaper', { month });
      saveFile(made.fileName, made.base64, 'application/pdf');
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <>
      <Pick
        label="Month on paper"
        value={month}
        choices={choices.map((value, place) => ({
          value,
          title: place === 0 ? `${monthText(value)}, so far` : monthText(value),
        }))}
        onPick={setMonth}
      />
      <Button disabled={isBusy} className={styles.atFoot} onClick={() => void save()}>
        {isBusy ? 'Setting the pages' : 'Save the month as PDF'}
      </Button>
      <ProblemNote problem={problem} />
    </>
  );
}
