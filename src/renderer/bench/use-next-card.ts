import { type RefObject, useEffect, useRef } from 'react';

/**
 * Brings a new card to the eye: scrolls its column to the top, and takes the focus along when the button that was
 * pressed has gone, so that the keyboard goes on from the new card.
 */
export function useNextCard(column: RefObject<HTMLElement | null>, card: string): void {
  const before = useRef(card);
  useEffect(() => {
    if (before.current === card) return;
    before.current = card;
    const element = column.current;
    if (!element) return;
    element.scrollTop = 0;
    if (element.getBoundingClientRect().top < 0) element.scrollIntoView({ block: 'start' });
    const active = document.activeElement;
    if (active === null || active === document.body) element.focus({ preventScroll: true });
  }, [column, card]);
}
