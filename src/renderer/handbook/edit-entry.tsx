import { useState } from 'react';
import type { FindingView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useWrite } from '../session/use-write.ts';
import styles from './edit-entry.module.css';
import { handbookReads, useWhoEdits } from './who-edits.ts';

interface Props {
  kind: string;
  /** Null for an entry that is written anew. */
  id: string | null;
  yaml: string;
  onDone: (id: string | null) => void;
}

/** An entry as text, with who changes it and why; saved only when the whole book holds together with it. */
export function EditEntry({ kind, id, yaml, onDone }: Props) {
  const [text, setText] = useState(yaml);
  const [why, setWhy] = useState('');
  const [who, setWho] = useWhoEdits();
  const [remarks, setRemarks] = useState<readonly FindingView[]>([]);
  const edit = useWrite('handbook.edit', handbookReads);
  const undo = useWrite('handbook.undo', handbookReads);

  const save = async (next: string | null): Promise<void> => {
    const done = await edit.run({
      kind,
      ...(id === null ? {} : { id, ifYaml: yaml }),
      yaml: next,
      who: who.trim(),
      ...(why.trim() ? { why: why.trim() } : {}),
    });
    if (!done) return;
    setRemarks(done.findings);
    say(next === null ? 'Removed from the handbook.' : 'The handbook is changed.', {
      label: 'Undo',
      run: () => void undo.run({ seq: done.seq, who: who.trim() }),
    });
    if (done.findings.length === 0) onDone(done.entry?.id ?? null);
  };

  return (
    <section className={styles.edit} aria-label={id === null ? 'New entry' : 'Edit this entry'}>
      <Field label="The entry, as it is written in the file">
        {(ids) => (
          <textarea
            {...ids}
            className={styles.text}
            spellCheck={false}
            rows={Math.min(36, Math.max(12, text.split('\n').length + 1))}
            maxLength={200_000}
            value={text}
            onChange={(event) => setText(event.target.value)}
          />
        )}
      </Field>
      <div className={styles.row}>
        <Field label="Who changes it">
          {(ids) => (
            <input {...ids} maxLength={60} value={who} onChange={(event) => setWho(event.target.value)} />
          )}
        </Field>
        <Field label="Why">
          {(ids) => (
            <input {...ids} maxLength={400} value={why} onChange={(event) => setWhy(event.target.value)} />
          )}
        </Field>
      </div>
      <ProblemNote problem={edit.problem ?? undo.problem} />
      {remarks.map((remark) => (
        <p key={`${remark.code}${remark.field}${remark.message}`} role="status">
          Saved, with a remark: {remark.message}
        </p>
      ))}
      <div className={styles.actions}>
        <Button
          look="main"
          disabled={edit.isBusy || !who.trim() || text === yaml}
          onClick={() => void save(text)}
        >
          Save to the handbook
        </Button>
        <Button onClick={() => onDone(id)}>Leave it as it was</Button>
        {id === null ? null : (
          <Button look="quiet" disabled={edit.isBusy || !who.trim()} onClick={() => void save(null)}>
            Remove this entry
          </Button>
        )}
        {who.trim() ? null : <p>Say who changes it; the history keeps it.</p>}
      </div>
    </section>
  );
}
