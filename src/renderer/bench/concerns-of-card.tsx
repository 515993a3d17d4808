import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { newId } from '../session/new-id.ts';
import { useDraft } from '../session/use-draft.ts';
import styles from './job-card-drawer.module.css';
import type { JobDesk } from './use-job.ts';

/** The concerns of the visit, and one more. Its symptom is named in the middle column. */
export function ConcernsOfCard({ desk }: { desk: JobDesk }) {
  const draft = useDraft(`job/${desk.job.jobId}/concern`, '');
  const words = draft.value;
  const add = async (): Promise<void> => {
    if (words.trim() === '' || desk.isBusy) return;
    const after = await desk.run('jobs.addConcern', { concernId: newId(), words: words.trim() });
    if (after) draft.clear();
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
              onChange={(event) => draft.set(event.target.value)}
            />
          )}
        </Field>
        <Button type="submit" disabled={desk.isBusy}>
          Add
        </Button>
        <KeptNote draft={draft} />
      </form>
    </section>
  );
}
