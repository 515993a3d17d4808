import { useState } from 'react';
import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { plain } from '../words/labels.ts';
import { countWords } from '../words/units.ts';
import page from './handbook-check.module.css';
import { filesOf, saveFiles } from './handbook-files.ts';
import styles from './handbook-history.module.css';
import { handbookReads, useWhoEdits } from './who-edits.ts';

const states = { edited: 'edited here', added: 'written here', removed: 'removed here' } as const;

/** The shop's handbook against the shipped one, its files in and out, and the words it has learned. */
export function HandbookUpkeep() {
  const compared = useRead('handbook.compare', {});
  const learned = useRead('handbook.learned', {});
  const settle = useWrite('handbook.settle', handbookReads);
  const unlearn = useWrite('handbook.unlearn', handbookReads);
  const [who, setWho] = useWhoEdits();
  const take = (kind: string, id: string, which: 'shipped' | 'yours'): void => {
    void settle.run({ kind, id, take: which, who: who.trim() });
  };
  const canAct = who.trim() !== '' && !settle.isBusy;
  return (
    <div className={page.page}>
      <p>
        <Link to="/handbook">Back to the Handbook</Link>
      </p>
      <div className={page.head}>
        <h1>Upkeep of the handbook</h1>
        <Field label="Who does it">
          {(ids) => (
            <input {...ids} maxLength={60} value={who} onChange={(event) => setWho(event.target.value)} />
          )}
        </Field>
      </div>
      <ProblemNote problem={settle.problem ?? unlearn.problem ?? compared.error} />
      {compared.isPending ? <Waiting what="Comparing" /> : null}

      {compared.data && compared.data.conflicts.length > 0 ? (
        <section>
          <h2>Changed here and in the shipped handbook</h2>
          <ul className={styles.list}>
            {compared.data.conflicts.map((one) => (
              <li key={`${one.kind}${one.id}${one.field}`} className={styles.change}>
                <p>
                  <Link to={`/handbook/${one.kind}/${one.id}`}>{one.id}</Link>{' '}
                  {one.field ? plain(one.field) : 'as a whole'}
                </p>
                <p>Yours: {one.yours}</p>
                <p>Shipped now: {one.shipped}</p>
                <div className={styles.files}>
                  <Button size="row" disabled={!canAct} onClick={() => take(one.kind, one.id, 'shipped')}>
                    Take the shipped one
                  </Button>
                  <Button size="row" disabled={!canAct} onClick={() => take(one.kind, one.id, 'yours')}>
                    Keep ours
                  </Button>
                </div>
              </li>
            ))}
          </ul>
        </section>
      ) : null}

      <section>
        <h2>What this shop changed</h2>
        {compared.data?.entries.length === 0 ? (
          <Empty title="Nothing: the handbook is as it was shipped.">Edit an entry on its own page.</Empty>
        ) : (
          <ul className={styles.list}>
            {compared.data?.entries.map((entry) => (
              <li key={`${entry.kind}${entry.id}`} className={styles.change}>
                <div className={styles.line}>
                  <p>
                    <Link to={`/handbook/${entry.kind}/${entry.id}`}>{entry.title}</Link>
                    <span className={page.where}>
                      {plain(entry.kind)} · {states[entry.state]}
                    </span>
                  </p>
                  <Button size="row" disabled={!canAct} onClick={() => take(entry.kind, entry.id, 'shipped')}>
                    {entry.state === 'added' ? 'Remove it' : 'Back to the shipped form'}
                  </Button>
                </div>
              </li>
            ))}
          </ul>
        )}
      </section>

      <FilesInAndOut who={who.trim()} />

      <section>
        <h2>Words that customers taught us</h2>
        {learned.data?.words.length === 0 ? (
          <Empty title="None yet.">
            When another symptom than the first is picked at the Counter, the words go to that symptom.
          </Empty>
        ) : (
          <ul className={styles.list}>
            {learned.data?.words.map((one) => (
              <li key={one.phraseId} className={styles.change}>
                <div className={styles.line}>
                  <p>
                    “{one.text}” <span className={page.where}>{one.title}</span>
                  </p>
                  <Button
                    size="row"
                    disabled={unlearn.isBusy}
                    onClick={() => void unlearn.run({ phraseId: one.phraseId })}
                  >
                    Take it back
                  </Button>
                </div>
              </li>
            ))}
          </ul>
        )}
      </section>
    </div>
  );
}

type Incoming = {
  readonly files: { path: string; text: string }[];
  readonly answer: OutputOf<'handbook.import'>;
};

function FilesInAndOut({ who }: { who: string }) {
  const [incoming, setIncoming] = useState<Incoming | null>(null);
  const [problem, setProblem] = useState<unknown>(null);
  const load = useWrite('handbook.import', handbookReads);

  const look = async (list: FileList | null): Promise<void> => {
    setProblem(null);
    setIncoming(null);
    if (!list || list.length === 0) return;
    const files = await filesOf(list);
    const answer = await load.run({ files, dryRun: true, who: who || 'nobody yet' });
    if (answer) setIncoming({ files, answer });
  };
  const takeIn = async (): Promise<void> => {
    if (!incoming) return;
    const done = await load.run({ files: incoming.files, dryRun: false, who });
    if (!done?.ok) return;
    say(`${countWords(done.added + done.changed, 'entry', 'entries')} taken in.`);
    setIncoming(null);
  };
  const send = async (): Promise<void> => {
    setProblem(null);
    try {
      saveFiles((await client.call('handbook.export', {})).files);
    } catch (error) {
      setProblem(error);
    }
  };

  return (
    <section>
      <h2>Files in and out</h2>
      <div className={styles.files}>
        <Button onClick={() => void send()}>Save the handbook as one file</Button>
        <Field label="Take in handbook files (.yaml), or a saved handbook">
          {(ids) => (
            <input
              {...ids}
              type="file"
              multiple
              accept=".yaml,.yml,.json"
              onChange={(event) => void look(event.target.files)}
            />
          )}
        </Field>
      </div>
      <ProblemNote problem={problem ?? load.problem} />
      {incoming ? (
        <div role="status">
          <p>
            {incoming.answer.ok
              ? `${incoming.answer.added} new, ${incoming.answer.changed} changed, ${incoming.answer.unchanged} the same.`
              : 'The files have errors; nothing was taken in.'}
          </p>
          <ul className={styles.list}>
            {incoming.answer.findings.slice(0, 50).map((finding) => (
              <li key={`${finding.file}${finding.line}${finding.message}`} className={styles.change}>
                {finding.message}
                <span className={page.where}>
                  {' '}
                  {finding.file}
                  {finding.line === null ? '' : `, line ${finding.line}`}
                </span>
              </li>
            ))}
          </ul>
          {incoming.answer.ok && incoming.answer.added + incoming.answer.changed > 0 ? (
            <Button look="main" disabled={!who || load.isBusy} onClick={() => void takeIn()}>
              Take them in
            </Button>
          ) : null}
        </div>
      ) : null}
    </section>
  );
}
