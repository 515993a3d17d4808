import type { CircuitDraw } from '../../api/contract.ts';
import { plain } from '../words/labels.ts';
import styles from './wiring-panel.module.css';

interface Props {
  draw: CircuitDraw;
  onSet: (control: string, position: string) => void;
  onPart: (plug: string) => void;
}

/** Everything a person can set or part, in words: engine speed and lever as well as switches. */
export function ControlButtons({ draw, onSet, onPart }: Props) {
  return (
    <div className={styles.controls}>
      {draw.controls.map((control) => (
        <fieldset key={control.id} className={styles.control}>
          <legend>{control.title}</legend>
          {control.positions.map((position) => (
            <button
              key={position}
              type="button"
              aria-pressed={position === control.stands}
              onClick={() => onSet(control.id, position)}
            >
              {plain(position)}
            </button>
          ))}
        </fieldset>
      ))}
      {draw.plugs.length > 0 ? (
        <fieldset className={styles.control}>
          <legend>parted plugs</legend>
          {draw.plugs.map((plug) => (
            <button key={plug.id} type="button" aria-pressed={plug.parted} onClick={() => onPart(plug.id)}>
              {plug.title}
            </button>
          ))}
        </fieldset>
      ) : null}
    </div>
  );
}
