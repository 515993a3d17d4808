import type { CircuitDraw } from '../../api/contract.ts';
import { plain } from '../words/labels.ts';
import styles from './wiring-panel.module.css';

interface Props {
  draw: CircuitDraw;
  scale: number;
  onSet: (control: string, position: string) => void;
}

/** A button over every operated contact of the drawing: a click holds, turns or lets go. */
export function SwitchButtons({ draw, scale, onSet }: Props) {
  return draw.drawing.symbols.map((symbol) => {
    const part = draw.state.parts[symbol.id];
    const { press } = part ?? {};
    if (!press) return null;
    const size = Math.max(44, 44 * scale);
    return (
      <button
        key={symbol.id}
        type="button"
        className={styles.switch}
        style={{
          left: symbol.x * scale - size / 2,
          top: symbol.y * scale - size / 2,
          width: size,
          height: size,
        }}
        aria-pressed={part?.closed ?? false}
        aria-label={`${symbol.title}: ${plain(part?.stands ?? '')}. Set to ${plain(press.position)}`}
        title={`${symbol.title}: ${plain(part?.stands ?? '')} → ${plain(press.position)}`}
        onClick={() => onSet(press.control, press.position)}
      />
    );
  });
}
