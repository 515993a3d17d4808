import { useState } from 'react';
import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { plain, sentence } from '../words/labels.ts';
import styles from './entry-index.module.css';

type Entry = OutputOf<'handbook.browse'>['entries'][number];

export const kindTitles: Record<string, string> = {
  symptom: 'Symptoms',
  cause: 'Causes',
  check: 'Checks',
  spec: 'Healthy values',
  caution: 'Cautions',
  model: 'Models',
  family: 'Engine families',
  component: 'Components',
  question: 'Questions',
  precondition: 'Preconditions',
  circuit: 'Circuits',
  'part-kind': 'Kinds of parts',
};

function bySystem(entries: readonly Entry[]): [string, Entry[]][] {
  const systems = new Map<string, Entry[]>();
  for (const entry of entries) {
    const system = entry.system ?? 'everywhere';
    systems.set(system, [...(systems.get(system) ?? []), entry]);
  }
  return [...systems];
}

/** The entries of one kind by system, with search over them. */
export function EntryIndex({ kind, id }: { kind: string | undefined; id: string | undefined }) {
  const [chosen, setChosen] = useState(kind ?? 'symptom');
  const [text, setText] = useState('');
  const asked = useDelayed(text.trim());
  const list = useRead(
    'handbook.browse',
    { kind: chosen, ...(asked ? { text: asked } : {}) },
    { keep: true },
  );
  const systems = bySystem(list.data?.entries ?? []);
  return (
    <nav className={styles.index} aria-label="Handbook">
      <div className={styles.top}>
        <select aria-label="Kind of entry" value={chosen} onChange={(event) => setChosen(event.target.value)}>
          {Object.entries(kindTitles).map(([each, title]) => (
            <option key={each} value={each}>
              {title}
            </option>
          ))}
        </select>
        <input
          type="search"
          aria-label="Search the handbook"
          placeholder="Search"
          maxLength={200}
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
      </div>
      <ProblemNote problem={list.error} onRetry={() => void list.refetch()} />
      {list.isPending ? <Waiting /> : null}
      {list.data?.entries.length === 0 ? (
        <Empty title={asked ? `Nothing fits “${asked}”.` : 'Nothing of this kind in the book.'}>
          Try another word or another kind.
        </Empty>
      ) : null}
      {systems.map(([system, entries]) => (
        <details
          key={`${chosen}-${system}`}
          open={asked !== '' || systems.length < 3 || entries.some((each) => each.id === id)}
        >
          <summary>
            {sentence(plain(system))} <span>{entries.length}</span>
          </summary>
          <ul>
            {entries.map((entry) => (
              <li key={entry.id}>
                <Link
                  to={`/handbook/${entry.kind}/${entry.id}`}
                  aria-current={entry.id === id && entry.kind === kind ? 'page' : undefined}
                >
                  {entry.title}
                  {entry.edited ? <i> (edited here)</i> : null}
                </Link>
              </li>
            ))}
          </ul>
        </details>
      ))}
    </nav>
  );
}
