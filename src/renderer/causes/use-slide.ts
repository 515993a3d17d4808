import { type RefObject, useLayoutEffect, useRef } from 'react';

/**
 * Lets the rows of a list slide from their old place to the new one when the order changes, so that the eye sees
 * what moved. Rows are known by `data-row`. The time is the token --slide, which reduced motion sets to nothing.
 */
export function useSlide(list: RefObject<HTMLElement | null>, order: string): void {
  const places = useRef(new Map<string, number>());
  useLayoutEffect(() => {
    const holder = list.current;
    if (!holder || order === '') return;
    const isStill = matchMedia('(prefers-reduced-motion: reduce)').matches;
    const next = new Map<string, number>();
    for (const row of holder.querySelectorAll<HTMLElement>('[data-row]')) {
      const id = row.dataset.row ?? '';
      next.set(id, row.offsetTop);
      const before = places.current.get(id);
      const moved = before === undefined ? 0 : before - row.offsetTop;
      if (moved !== 0 && !isStill) {
        row.animate([{ transform: `translateY(${moved}px)` }, { transform: 'none' }], {
          duration: 200,
          easing: 'ease-out',
        });
      }
    }
    places.current = next;
  }, [list, order]);
}
