import type { CheckView, RankedCause } from '../../api/contract.ts';
import styles from './wiring-panel.module.css';

interface Props {
  check: CheckView | null;
  /** The causes still in question, likeliest first. */
  suspects: readonly Pick<RankedCause, 'causeId'>[];
}

/** What the check would show on this machine under each suspect. */
export function ExpectedTable({ check, suspects }: Props) {
  const rank = new Map(suspects.map(({ causeId }, at) => [causeId, at]));
  const place = (causeId: string): number => rank.get(causeId) ?? suspects.length;
  const expected = [...(check?.expected ?? [])].sort((a, b) => place(a.causeId) - place(b.causeId));
  if (expected.length === 0) return null;
  return (
    <table className={styles.table}>
      <caption>What this check would show</caption>
      <thead>
        <tr>
          <th scope="col">If it is</th>
          <th scope="col">it shows</th>
        </tr>
      </thead>
      <tbody>
        {expected.map((row) => (
          <tr key={row.causeId}>
            <th scope="row">{row.title}</th>
            <td>{row.shows}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
