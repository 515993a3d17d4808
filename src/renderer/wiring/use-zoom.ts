import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';

const LEAST = 0.4;
const MOST = 4;
const STEP = 1.25;
/** Below this scale the words of the drawing become too small; the drawing is then wider than its frame and scrolls. */
const READABLE = 0.85;

const within = (scale: number): number => Math.min(MOST, Math.max(LEAST, scale));

export interface Zoom {
  readonly frame: RefObject<HTMLDivElement | null>;
  readonly scale: number;
  readonly isFitted: boolean;
  larger(): void;
  smaller(): void;
  fit(): void;
}

/** Scale of a drawing in its frame: fitted to the width, by buttons, by wheel with Ctrl, by two fingers. */
export function useZoom(width: number): Zoom {
  const frame = useRef<HTMLDivElement | null>(null);
  const [room, setRoom] = useState(360);
  const [own, setOwn] = useState<number | null>(null);
  const scale = own ?? Math.min(1.6, Math.max(READABLE, room / Math.max(width, 1)));
  const now = useRef(scale);
  now.current = scale;
  const by = useCallback((factor: number) => setOwn(within(now.current * factor)), []);

  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const watch = new ResizeObserver(() => setRoom(element.clientWidth));
    watch.observe(element);
    // A wheel listener of React is passive and could not keep the page from zooming.
    const onWheel = (event: WheelEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      by(Math.exp(-event.deltaY / 200));
    };
    let apart = 0;
    const distance = ({ touches }: TouchEvent): number => {
      const [a, b] = [touches[0], touches[1]];
      return a && b ? Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) : 0;
    };
    const onStart = (event: TouchEvent) => {
      apart = distance(event);
    };
    const onMove = (event: TouchEvent) => {
      const next = distance(event);
      if (next === 0 || apart === 0) return;
      event.preventDefault();
      by(next / apart);
      apart = next;
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    element.addEventListener('touchstart', onStart, { passive: true });
    element.addEventListener('touchmove', onMove, { passive: false });
    return () => {
      watch.disconnect();
      element.removeEventListener('wheel', onWheel);
      element.removeEventListener('touchstart', onStart);
      element.removeEventListener('touchmove', onMove);
    };
  }, [by]);

  return {
    frame,
    scale,
    isFitted: own === null,
    larger: () => by(STEP),
    smaller: () => by(1 / STEP),
    fit: () => setOwn(null),
  };
}
