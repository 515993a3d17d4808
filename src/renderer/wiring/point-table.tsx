import type { CircuitDraw } from '../../api/contract.ts';
import { longVolts } from './volts-words.ts';
import styles from './wiring-panel.module.css';

interface Props {
  id: string;
  healthy: CircuitDraw;
  suspect: CircuitDraw | null;
  suspectTitle: string;
  chosen: string | undefined;
  onChoose: (pointId: string) => void;
}

/** The drawing in words: every probe point with its volts, healthy and suspect side by side. */
export function PointTable({ id, healthy, suspect, suspectTitle, chosen, onChoose }: Props) {
  return (
    <table className={styles.table} id={id}>
      <caption>Volts above ground, at the controls as they stand</caption>
      <thead>
        <tr>
          <th scope="col">Point</th>
          <th scope="col">Healthy</th>
          {suspect ? <th scope="col">If it is: {suspectTitle}</th> : null}
        </tr>
      </thead>
      <tbody>
        {healthy.drawing.points.map((point) => {
          const well = longVolts(healthy.state.nodes[point.node]);
          const ill = suspect ? longVolts(suspect.state.nodes[point.node]) : null;
          return (
            <tr key={point.id} data-chosen={point.id === chosen ? '' : undefined}>
              <th scope="row">
                <button type="button" className={styles.point} onClick={() => onChoose(point.id)}>
                  {point.title}
                  {point.electronic ? (
                    <span className={styles.where}>electronic: no lamp, no bridge</span>
                  ) : null}
                  {point.where ? <span className={styles.where}>{point.where}</span> : null}
                </button>
              </th>
              <td>{well}</td>
              {ill === null ? null : <td>{ill === well ? ill : <b>{ill}</b>}</td>}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
