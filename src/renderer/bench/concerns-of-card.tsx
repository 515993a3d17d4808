import { useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { newId } from '../session/new-id.ts';
import styles from './job-card-drawer.module.css';
import type { JobDesk } from './use-job.ts';

/** The concerns of the visit, and one more. Its symptom is named in the middle column. */
export function ConcernsOfCard({ desk }: { desk: JobDesk }) {
  const [words, setWords] = useState('');
  const add = async (): Promise<void> => {
    if (words.trim() === '') return;
    const after = await desk.run('jobs.addConcern', { concernId: newId(), words: words.trim() });
    if (after) setWords('');
  };
  return (
    <section className={styles.part}>
      <h3>Concerns</h3>
      {desk.job.concerns.map((concern) => (
        <p key={concern.concernId} className={styles.line}>
          <span>
            “{concern.words}” <span className={styles.soft}>{concern.symptom ?? 'no symptom yet'}</span>
          </span>
          <span>{concern.state === 'closed' ? concern.causes.join(', ') || 'closed' : 'open'}</span>
        </p>
      ))}
      <form
        className={styles.add}
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <Field label="Another complaint, in the customer’s words">
          {(ids) => (
            <input
              {...ids}
              maxLength={4000}
              value={words}
              onChange={(event) => setWords(event.target.value)}
            />
          )}
        </Field>
        <Button type="submit">Add</Button>
      </form>
    </section>
  );
}
