import { useState } from 'react';
import { useNavigate } from 'react-router';
import type { WorkState } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { TallyMarks } from '../pieces/tally-marks.tsx';
import { client, queries } from '../session/client.ts';
import { useRead } from '../session/use-read.ts';
import { countWords } from '../words/units.ts';
import styles from './first-run.module.css';
import { WorkBar } from './work-bar.tsx';

/** The first screen of an empty shop: what to do next, in two choices. */
export function FirstRun() {
  const status = useRead('shop.status', {});
  const navigate = useNavigate();
  const [work, setWork] = useState<WorkState | null>(null);
  const [problem, setProblem] = useState<unknown>(null);

  const loadDemo = async (): Promise<void> => {
    setProblem(null);
    try {
      const { workId } = await client.call('shop.demo', {});
      const last = await client.watch(workId, setWork);
      setWork(last.state === 'running' ? last : null);
      if (last.state === 'failed') setProblem(last.problem ?? new Error(last.says));
      if (last.state !== 'done') return;
      await queries.invalidateQueries();
      void navigate('/counter');
    } catch (error) {
      setWork(null);
      setProblem(error);
    }
  };

  return (
    <div className={styles.page}>
      <h1>The shop’s own fault and parts book</h1>
      <p className={styles.lead}>
        Write down what the customer says, see what it is likely to be, do the check that tells most, close
        the job with what it was. Every closed job makes the next ranking better.
      </p>
      {status.data ? (
        <p className={styles.facts}>
          The handbook is loaded: {countWords(status.data.symptoms, 'symptom')},{' '}
          {countWords(status.data.causes, 'cause')}, {countWords(status.data.checks, 'check')}.
        </p>
      ) : null}
      {status.data && !status.data.empty ? (
        <p className={styles.facts}>
          This shop already has {countWords(status.data.jobs, 'job')}; the invented shop can only fill an
          empty data folder.
        </p>
      ) : null}
      <div className={styles.choices}>
        <section className={styles.choice}>
          <h2>Start with your own shop</h2>
          <p>
            The book ranks by the handbook at first. Take the first scooter in at the Counter; name and rates
            wait in the Office.
          </p>
          <Button look="main" onClick={() => void navigate('/counter')} disabled={work !== null}>
            Take the first scooter in
          </Button>
        </section>
        <section className={styles.choice}>
          <h2>Look around in an invented shop</h2>
          <p>
            About 3,000 closed jobs over three years, all made up: customers, plates, models and numbers.
            Start again later with an empty data folder.
          </p>
          <div className={styles.marks}>
            <TallyMarks count={23} />
          </div>
          {work ? (
            <WorkBar work={work} onCancel={() => void client.call('work.cancel', { workId: work.workId })} />
          ) : (
            <Button onClick={() => void loadDemo()} disabled={!status.data?.empty}>
              Load the invented shop
            </Button>
          )}
          <ProblemNote problem={problem} />
        </section>
      </div>
      {status.data ? <p className={styles.where}>Data is kept in {status.data.dataFolder}</p> : null}
    </div>
  );
}
