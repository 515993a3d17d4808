import { useCallback, useEffect, useRef, useState } from 'react';

const rest = 600;

/**
 * A text that saves itself while it is typed: after a short rest, on leaving the field, and when the screen closes.
 * A change from outside shows at once, unless something unsaved stands in the field.
 */
export function useTyped(outside: string, save: (text: string) => void) {
  const [text, setText] = useState(outside);
  const unsaved = useRef<string | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const latest = useRef(save);
  latest.current = save;

  const flush = useCallback((): void => {
    clearTimeout(timer.current);
    const due = unsaved.current;
    unsaved.current = null;
    if (due !== null) latest.current(due);
  }, []);

  useEffect(() => {
    if (unsaved.current === null) setText(outside);
  }, [outside]);

  useEffect(() => {
    addEventListener('pagehide', flush);
    return () => {
      removeEventListener('pagehide', flush);
      flush();
    };
  }, [flush]);

  const type = useCallback(
    (next: string): void => {
      setText(next);
      unsaved.current = next;
      clearTimeout(timer.current);
      timer.current = setTimeout(flush, rest);
    },
    [flush],
  );
  return { text, type, flush };
}
