import { useState } from 'react';
import { Link } from 'react-router';
import type { Advice, InputOf } from '../../api/contract.ts';
import { handbookReads, useWhoEdits } from '../handbook/who-edits.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client, queries } from '../session/client.ts';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { countWords } from '../words/units.ts';
import styles from './report.module.css';
import { chanceWords } from './report-words.ts';

const readAgain = (): Promise<unknown> =>
  Promise.all(
    [...handbookReads, 'patterns.advice', 'patterns.accuracy'].map((name) =>
      queries.invalidateQueries({ queryKey: [name] }),
    ),
  );

/** Takes changes of the handbook back, the last one first. */
async function undoAll(seqs: readonly number[], who: string): Promise<void> {
  for (const seq of [...seqs].reverse()) await client.call('handbook.undo', { seq, who });
}

/** Carries out every edit of a suggestion, or none of them. */
async function adopt(advice: Advice, who: string): Promise<number[]> {
  const done: number[] = [];
  try {
    for (const edit of advice.edits) {
      const { seq } = await client.call('handbook.edit', {
        ...edit,
        who,
        why: `the closed jobs: ${advice.says}`.slice(0, 400),
      });
      done.push(seq);
    }
  } catch (error) {
    await undoAll(done, who);
    throw error;
  }
  return done;
}

interface Props {
  advice: Advice;
  who: string;
}

function Suggestion({ advice, who }: Props) {
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<unknown>(null);
  const run = async (work: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      await work();
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
    await readAgain();
  };
  const change = (): Promise<void> =>
    run(async () => {
      const seqs = await adopt(advice, who);
      say(`The handbook is changed: ${advice.title}.`, {
        label: 'Undo',
        run: () => void run(() => undoAll(seqs, who)),
      });
    });
  const button = advice.kind === 'prior' ? `Set it to ${advice.becomes} of 100` : 'Add it to the book';
  return (
    <li className={styles.advice}>
      <div>
        <h3>
          <Link to={`/handbook/symptom/${advice.symptomId}`}>{advice.title}</Link>
        </h3>
        <p>
          {advice.says}
          {advice.falseShare === null
            ? ''
            : ` By chance: ${chanceWords(advice.falseShare)}, number of looks allowed for.`}
        </p>
        {advice.jobNumbers.length > 0 ? (
          <p className={styles.jobs}>
            <span className={styles.soft}>Jobs</span>
            {advice.jobNumbers.map((number) => (
              <Link key={number} to={`/bench/${number}`}>
                {number}
              </Link>
            ))}
          </p>
        ) : null}
        <ProblemNote problem={problem} />
      </div>
      {advice.edits.length === 0 ? (
        <Link to="/handbook/new/cause">Write the entry</Link>
      ) : (
        <Button
          size="row"
          disabled={isBusy || who.trim() === ''}
          aria-label={`${button}: ${advice.title}`}
          onClick={() => void change()}
        >
          {button}
        </Button>
      )}
    </li>
  );
}

/** Where the shop proves something else than the book says: one click changes the book, and one takes it back. */
export function AdviceList({ input }: { input: InputOf<'patterns.advice'> }) {
  const found = useRead('patterns.advice', input, { keep: true, stale: 60_000 });
  const [who, setWho] = useWhoEdits();
  const { data } = found;
  return (
    <>
      <h2>What to change in the book</h2>
      <ProblemNote problem={found.error} onRetry={() => void found.refetch()} />
      {data ? (
        <p className={styles.soft}>
          All closed jobs of {countWords(data.symptoms, 'symptom')} with at least twenty proven concerns,{' '}
          {countWords(data.tested, 'pair')} of symptom and cause. The ranking already learns from the closed
          jobs; a changed book is also right on machines and in shops that have few of them. Every change
          stands in the <Link to="/handbook/history">history</Link> and can be taken back there too.
        </p>
      ) : null}
      {data && data.advice.length === 0 ? <p>Nothing: the closed jobs agree with the book.</p> : null}
      {data && data.advice.length > 0 ? (
        <>
          <div className={styles.filters}>
            <Field
              label="Who changes the book"
              {...(who.trim()
                ? {}
                : { hint: 'Say who; then one click changes it. The history keeps the name.' })}
            >
              {(ids) => (
                <input {...ids} maxLength={60} value={who} onChange={(event) => setWho(event.target.value)} />
              )}
            </Field>
          </div>
          <ul className={styles.advices}>
            {data.advice.map((advice) => (
              <Suggestion key={advice.adviceId} advice={advice} who={who.trim()} />
            ))}
          </ul>
        </>
      ) : null}
    </>
  );
}
