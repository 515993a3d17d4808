import { useState } from 'react';
import type { ConcernView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { MarkedWords } from '../pieces/marked-words.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import styles from './name-symptom.module.css';
import type { JobDesk } from './use-job.ts';

/** A concern without a symptom: pick one by the customer's words, or from the list of the book. */
export function NameSymptom({ desk, concern }: { desk: JobDesk; concern: ConcernView }) {
  const [text, setText] = useState(concern.words);
  const asked = useDelayed(text.trim());
  const modelId = desk.job.vehicle?.modelId;
  const found = useRead(
    'symptoms.find',
    { text: asked, ...(modelId ? { modelId } : {}), limit: 8 },
    { keep: true },
  );
  const all = useRead('symptoms.list', {}, { stale: 60_000 });
  const pick = (symptomId: string): void =>
    void desk.run('jobs.editConcern', { concernId: concern.concernId, symptomId });
  return (
    <div className={styles.pick}>
      <Field label="Which symptom is it? Change the words until it shows.">
        {(ids) => (
          <input {...ids} maxLength={4000} value={text} onChange={(event) => setText(event.target.value)} />
        )}
      </Field>
      {found.data?.outOfScope ? <p>{found.data.outOfScope.say}</p> : null}
      {found.data?.matches.map((match) => (
        <button
          key={match.symptomId}
          type="button"
          className={styles.match}
          onClick={() => pick(match.symptomId)}
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
          <select {...ids} value="" onChange={(event) => event.target.value && pick(event.target.value)}>
            <option value="">Choose one</option>
            {all.data?.symptoms.map((symptom) => (
              <option key={symptom.symptomId} value={symptom.symptomId}>
                {symptom.title}: {symptom.meaning}
              </option>
            ))}
          </select>
        )}
      </Field>
      {concern.words === text ? null : (
        <Button
          look="quiet"
          onClick={() => void desk.run('jobs.editConcern', { concernId: concern.concernId, words: text })}
        >
          Keep these words on the card
        </Button>
      )}
    </div>
  );
}
