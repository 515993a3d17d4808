import type { ConcernView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { MarkedWords } from '../pieces/marked-words.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useDraft } from '../session/use-draft.ts';
import { useRead } from '../session/use-read.ts';
import styles from './name-symptom.module.css';
import type { JobDesk } from './use-job.ts';

interface Edit {
  readonly text: string | null;
  /** The words on the card when the first letter was changed. */
  readonly base: string;
}

/** A concern without a symptom: pick one by the customer's words, or from the list of the book. */
export function NameSymptom({ desk, concern }: { desk: JobDesk; concern: ConcernView }) {
  // Nothing typed yet: the words on the card, also where another hand changes them meanwhile.
  const draft = useDraft<Edit>(`concern/${concern.concernId}/words`, { text: null, base: '' });
  const { base } = draft.value;
  const text = draft.value.text ?? concern.words;
  const isOvertaken = draft.value.text !== null && base !== concern.words && text !== concern.words;
  const asked = useDelayed(text.trim());
  const modelId = desk.job.vehicle?.modelId;
  const found = useRead(
    'symptoms.find',
    { text: asked, ...(modelId ? { modelId } : {}), limit: 8 },
    { keep: true },
  );
  const all = useRead('symptoms.list', {}, { stale: 60_000 });
  const pick = async (symptomId: string): Promise<void> => {
    if (desk.isBusy) return;
    const after = await desk.run('jobs.editConcern', { concernId: concern.concernId, symptomId });
    if (after) draft.clear();
  };
  const keep = async (): Promise<void> => {
    const after = await desk.run('jobs.editConcern', { concernId: concern.concernId, words: text });
    if (after) draft.clear();
  };
  return (
    <div className={styles.pick}>
      <Field label="Which symptom is it? Change the words until it shows.">
        {(ids) => (
          <input
            {...ids}
            maxLength={4000}
            value={text}
            onChange={(event) => {
              const next = event.target.value;
              draft.set((before) => ({
                text: next,
                base: before.text === null ? concern.words : before.base,
              }));
            }}
          />
        )}
      </Field>
      <KeptNote draft={draft} />
      {isOvertaken ? (
        <p>Somebody changed the words on the card meanwhile. They now are: “{concern.words}”.</p>
      ) : null}
      {found.data?.outOfScope ? <p>{found.data.outOfScope.say}</p> : null}
      {found.data?.matches.map((match) => (
        <button
          key={match.symptomId}
          type="button"
          className={styles.match}
          disabled={desk.isBusy}
          onClick={() => void pick(match.symptomId)}
        >
          <b>{match.title}</b>
          <span>
            “<MarkedWords text={asked} words={match.words} />”
          </span>
        </button>
      ))}
      {found.data?.matches.length === 0 ? (
        <p>Nothing in the book fits these words. Pick from the whole list:</p>
      ) : null}
      <Field label="All symptoms of the book">
        {(ids) => (
          <select {...ids} value="" onChange={(event) => event.target.value && void pick(event.target.value)}>
            <option value="">Choose one</option>
            {all.data?.symptoms.map((symptom) => (
              <option key={symptom.symptomId} value={symptom.symptomId}>
                {symptom.title}: {symptom.meaning}
              </option>
            ))}
          </select>
        )}
      </Field>
      {concern.words === text || text.trim() === '' ? null : (
        <Button look="quiet" disabled={desk.isBusy} onClick={() => void keep()}>
          {isOvertaken ? 'Put these words in their place' : 'Keep these words on the card'}
        </Button>
      )}
    </div>
  );
}
