import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { plain } from '../words/labels.ts';
import { isFact } from './entry-order.ts';
import styles from './field-value.module.css';
import { fieldTitle, isRecord } from './read-body.ts';

type Related = OutputOf<'handbook.read'>['related'];

function Scalar({ value, related }: { value: unknown; related: Related }): ReactNode {
  if (value === null || value === undefined) return 'open';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'string') return String(value);
  const entry = related.find(({ id }) => id === value);
  if (entry) return <Link to={`/handbook/${entry.kind}/${entry.id}`}>{entry.title}</Link>;
  return /^[a-z0-9]+(-[a-z0-9]+)+$/.test(value) ? plain(value) : value;
}

function Row({ value, related }: { value: unknown; related: Related }): ReactNode {
  if (Array.isArray(value)) {
    return value.map((each, at) => (
      // biome-ignore lint/suspicious/noArrayIndexKey: a written list keeps its order
      <span key={at}>
        {at > 0 ? ', ' : ''}
        <Row value={each} related={related} />
      </span>
    ));
  }
  if (isRecord(value)) {
    return Object.entries(value).map(([key, each], at) => (
      <span key={key}>
        {at > 0 ? ', ' : ''}
        <Name id={key} related={related} /> <Row value={each} related={related} />
      </span>
    ));
  }
  return <Scalar value={value} related={related} />;
}

function Name({ id, related }: { id: string; related: Related }): ReactNode {
  const entry = related.find((each) => each.id === id);
  return entry ? <Link to={`/handbook/${entry.kind}/${entry.id}`}>{entry.title}</Link> : fieldTitle(id);
}

function Table({ rows, related }: { rows: readonly Record<string, unknown>[]; related: Related }) {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col">
                {fieldTitle(column)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a written list keeps its order
            <tr key={at}>
              {columns.map((column) => (
                <td key={column}>
                  {row[column] === undefined ? '' : <Row value={row[column]} related={related} />}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** One field of an entry: words, a list, a table or named lines, as the file has it. */
export function FieldValue({ value, related }: { value: unknown; related: Related }) {
  if (Array.isArray(value)) {
    if (value.length > 0 && value.every(isRecord)) return <Table rows={value} related={related} />;
    if (isFact(value)) {
      return (
        <p>
          <Row value={value} related={related} />
        </p>
      );
    }
    return (
      <ul className={styles.list}>
        {value.map((each, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a written list keeps its order
          <li key={at}>
            <Row value={each} related={related} />
          </li>
        ))}
      </ul>
    );
  }
  if (isRecord(value)) {
    return (
      <dl className={styles.named}>
        {Object.entries(value).map(([key, each]) => (
          <div key={key}>
            <dt>
              <Name id={key} related={related} />
            </dt>
            <dd>
              {Array.isArray(each) && each.length > 1 ? (
                <FieldValue value={each} related={related} />
              ) : (
                <Row value={each} related={related} />
              )}
            </dd>
          </div>
        ))}
      </dl>
    );
  }
  return (
    <p>
      <Scalar value={value} related={related} />
    </p>
  );
}
