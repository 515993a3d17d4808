import { useState } from 'react';
import type { CircuitDraw } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { CircuitPicture, type Marks } from './circuit-drawing.tsx';
import { printDrawing } from './print-drawing.ts';
import { SwitchButtons } from './switch-buttons.tsx';
import { useZoom } from './use-zoom.ts';
import { longVolts } from './volts-words.ts';
import styles from './wiring-panel.module.css';

interface Props {
  draw: CircuitDraw;
  healthy: CircuitDraw;
  marks: Marks;
  describedBy: string;
  /** Healthy, or the suspect it is drawn under; printed above the drawing. */
  drawnAs: string;
  onSet: (control: string, position: string) => void;
  onChoose: (pointId: string) => void;
}

/** The drawing in a frame that zooms and scrolls, with its switches to click. */
export function DrawingFrame({ draw, healthy, marks, describedBy, drawnAs, onSet, onChoose }: Props) {
  const zoom = useZoom(draw.drawing.width);
  const [isPrinting, setPrinting] = useState(false);
  const point = draw.drawing.points.find(({ id }) => id === marks.chosen);
  const now = point && longVolts(draw.state.nodes[point.node]);
  const well = point && longVolts(healthy.state.nodes[point.node]);
  return (
    <>
      <div className={styles.tools}>
        <Button size="row" aria-label="Smaller" onClick={zoom.smaller}>
          −
        </Button>
        <Button size="row" aria-label="Larger" onClick={zoom.larger}>
          +
        </Button>
        <Button size="row" disabled={zoom.isFitted} onClick={zoom.fit}>
          Fit
        </Button>
        <Button size="row" disabled={isPrinting} onClick={() => printDrawing(setPrinting)}>
          Print
        </Button>
      </div>
      {/* The frame scrolls, so it can be reached and scrolled by keyboard. */}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard */}
      <section className={styles.frame} ref={zoom.frame} tabIndex={0} aria-label="Drawing, scrolls">
        <div className={styles.sheet} data-sheet="">
          <p className={styles.printed}>
            {draw.drawing.title} · {drawnAs} ·{' '}
            {draw.controls.map(({ title, stands }) => `${title} ${stands}`).join(', ')}
          </p>
          <CircuitPicture draw={draw} marks={marks} scale={zoom.scale} describedBy={describedBy} />
          {draw.drawing.points.map((each) => (
            <button
              key={each.id}
              type="button"
              tabIndex={-1}
              aria-hidden="true"
              className={styles.spot}
              style={{ left: each.x * zoom.scale - 12, top: each.y * zoom.scale - 12 }}
              onClick={() => onChoose(each.id)}
            />
          ))}
          <SwitchButtons draw={draw} scale={zoom.scale} onSet={onSet} />
        </div>
      </section>
      <p className={styles.said} role="status">
        {point ? (
          <>
            <b>{point.title}</b>: {now}
            {well === now ? '' : ` (healthy: ${well})`}
          </>
        ) : (
          'Tap a point to name it, a switch to work it.'
        )}
      </p>
    </>
  );
}
