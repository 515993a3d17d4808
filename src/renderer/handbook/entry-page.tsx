import { useState } from 'react';
import { Link, useNavigate } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { SignalWord } from '../pieces/signal-word.tsx';
import { useRead } from '../session/use-read.ts';
import { basisWords, plain } from '../words/labels.ts';
import { CautionById } from './caution-by-id.tsx';
import { EditEntry } from './edit-entry.tsx';
import { kindTitles } from './entry-index.tsx';
import { arranged } from './entry-order.ts';
import styles from './entry-page.module.css';
import { FieldValue } from './field-value.tsx';
import { fieldTitle, isSignal, textOf, textsOf } from './read-body.ts';

type Entry = OutputOf<'handbook.read'>;

/** Shown elsewhere on the page, or of no use to a reader. */
const apart = new Set(['id', 'title', 'system', 'basis', 'cautions', 'signal', 'name', 'do_not_ride']);

function basisText(basis: unknown): string {
  if (typeof basis === 'string') return basisWords[basis] ?? basis;
  if (typeof basis === 'object' && basis !== null && 'kind' in basis) {
    const kind = String(basis.kind);
    const source = 'source' in basis ? `: ${String(basis.source)}` : '';
    return `${basisWords[kind] ?? kind}${source}`;
  }
  return 'not stated';
}

function Margin({ entry }: { entry: Entry }) {
  // Cautions stand on the page in full, so the margin does not name them again.
  const kinds = [...new Set(entry.related.map(({ kind }) => kind))].filter((kind) => kind !== 'caution');
  return (
    <aside className={styles.margin} aria-label="Basis and related entries">
      {'basis' in entry.body ? (
        <>
          <h2>Basis</h2>
          <p>{basisText(entry.body.basis)}</p>
        </>
      ) : null}
      {entry.edited ? <p>Edited in this shop.</p> : null}
      {kinds.map((kind) => (
        <div key={kind}>
          <h2>{kindTitles[kind] ?? plain(kind)}</h2>
          <ul>
            {entry.related
              .filter((each) => each.kind === kind)
              .map((each) => (
                <li key={each.id}>
                  <Link to={`/handbook/${each.kind}/${each.id}`}>{each.title}</Link>
                </li>
              ))}
          </ul>
        </div>
      ))}
    </aside>
  );
}

/** One entry as a page to read; the basis stands in the margin. */
export function EntryPage({ kind, id }: { kind: string; id: string }) {
  const read = useRead('handbook.read', { kind, id });
  const [isEditing, setEditing] = useState(false);
  const navigate = useNavigate();
  if (read.isPending) return <Waiting />;
  if (read.isError) return <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />;
  const entry = read.data;
  const { body } = entry;
  const { facts, texts } = arranged(body, apart);
  const title =
    textOf(body.title) ||
    [textOf(body.maker), textOf(body.name)].join(' ').trim() ||
    textOf(body.ask) ||
    plain(id);
  return (
    <article className={styles.entry}>
      <div className={styles.text}>
        <p className={styles.kind}>
          {(kindTitles[kind] ?? plain(kind)).replace(/s$/, '')}
          {textOf(body.system) ? ` · ${plain(textOf(body.system))}` : ''}
        </p>
        <h1>{title}</h1>
        {isSignal(body.signal) ? (
          <p className={styles.signal}>
            <SignalWord signal={body.signal} />
          </p>
        ) : null}
        {textsOf(body.cautions).map((caution) => (
          <CautionById key={caution} id={caution} />
        ))}
        {facts.length > 0 ? (
          <dl className={styles.facts}>
            {facts.map(([field, value]) => (
              <div key={field}>
                <dt>{fieldTitle(field)}</dt>
                <dd>
                  <FieldValue value={value} related={entry.related} />
                </dd>
              </div>
            ))}
          </dl>
        ) : null}
        {texts.map(([field, value]) => (
          <section key={field} className={styles.field}>
            <h2>{fieldTitle(field)}</h2>
            <FieldValue value={value} related={entry.related} />
          </section>
        ))}
        {isEditing ? (
          <EditEntry
            kind={kind}
            id={id}
            yaml={entry.yaml}
            onDone={(left) => {
              setEditing(false);
              if (left === null) void navigate('/handbook');
            }}
          />
        ) : (
          <>
            <details className={styles.yaml}>
              <summary>As it is written in the file</summary>
              <pre>{entry.yaml}</pre>
            </details>
            <Button onClick={() => setEditing(true)}>Edit this entry</Button>
          </>
        )}
      </div>
      <Margin entry={entry} />
    </article>
  );
}
