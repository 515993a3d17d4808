import type { CheckView, RankedCause } from '../../api/contract.ts';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty } from '../pieces/empty.tsx';
import { plain } from '../words/labels.ts';
import styles from './wiring-panel.module.css';

interface Props {
  /** Null where there is no check to do. */
  check: CheckView | null;
  /** The causes still in question, likeliest first. */
  suspects: readonly Pick<RankedCause, 'causeId' | 'title'>[];
}

function Probe({ probe }: { probe: NonNullable<CheckView['probe']> }) {
  const { instrument } = probe;
  const rows =
    instrument.kind === 'ammeter'
      ? [['around', plain(instrument.around)]]
      : [
          ['tip', plain(instrument.tip)],
          ['lead', plain(instrument.lead)],
        ];
  return (
    <dl className={styles.probe}>
      <dt>{plain(instrument.kind)}</dt>
      {rows.map(([end, point]) => (
        <dd key={end}>
          <b>{end}</b> on {point}
        </dd>
      ))}
      {probe.unplugged.length > 0 ? <dd>parted: {probe.unplugged.map(plain).join(', ')}</dd> : null}
      {probe.removed.length > 0 ? <dd>taken out: {probe.removed.map(plain).join(', ')}</dd> : null}
    </dl>
  );
}

/** Right: where to probe, and what this machine would show for each suspect. */
export function WiringPanel({ check, suspects }: Props) {
  const rank = new Map(suspects.map(({ causeId }, at) => [causeId, at]));
  const place = (causeId: string): number => rank.get(causeId) ?? suspects.length;
  const expected = [...(check?.expected ?? [])].sort((a, b) => place(a.causeId) - place(b.causeId));
  return (
    <>
      <ColumnTitle>The wiring</ColumnTitle>
      {check?.probe ? <Probe probe={check.probe} /> : null}
      {expected.length > 0 ? (
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
      ) : null}
      {check && !check.probe && expected.length === 0 ? (
        <Empty title="This check needs no wiring.">
          A check with a lamp or a meter shows its points here.
        </Empty>
      ) : null}
      {check ? null : (
        <Empty title="Nothing to probe now.">The points of a check show here once one is chosen.</Empty>
      )}
    </>
  );
}
