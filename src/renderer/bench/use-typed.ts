import { useCallback, useEffect, useRef, useState } from 'react';
import { dropDraft, keepDraft, readDraft } from '../session/drafts.ts';

const rest = 600;

/** What came of a save: words say what is wrong with the text, a promise tells later whether it was kept. */
export type Saving = string | Promise<boolean>;

interface Unsaved {
  readonly text: string;
  /** What the card said when the first letter was changed. */
  readonly base: string;
}

/**
 * A text that saves itself while it is typed: after a short rest, on leaving the field, and when the screen closes. Until it
 * is saved it is kept as a draft. A change from outside shows at once, unless something unsaved stands in the field; a text
 * that was refused stays, and is saved again or given up by the person.
 * @param name names the draft: which field of which job
 */
export function useTyped(name: string, outside: string, save: (text: string) => Saving) {
  const [start] = useState(() => {
    const found = readDraft<Unsaved>(name, { text: '', base: '' });
    return found === null || found.text === outside ? null : found;
  });
  const [text, setText] = useState(start?.text ?? outside);
  const [wrong, setWrong] = useState<string | null>(null);
  /** The text could not be put on the card: another hand was there first, or the program did not answer. */
  const [isRefused, setRefused] = useState(start !== null && start.base !== outside);
  const unsaved = useRef<Unsaved | null>(start);
  const due = useRef(start !== null && start.base === outside);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  /** This field itself changed the card while it was typed on. */
  const isOwn = useRef(false);
  const latest = useRef({ save, outside });
  latest.current = { save, outside };

  const flush = useCallback((): void => {
    clearTimeout(timer.current);
    const sent = unsaved.current;
    if (!due.current || sent === null) return;
    due.current = false;
    if (sent.base !== latest.current.outside && !isOwn.current) {
      setRefused(true);
      return;
    }
    isOwn.current = false;
    const saving = latest.current.save(sent.text);
    if (typeof saving === 'string') {
      setWrong(saving);
      return;
    }
    setWrong(null);
    void saving.then((isSaved) => {
      // Typed on meanwhile: that text has its own turn.
      if (unsaved.current?.text !== sent.text) {
        isOwn.current = isSaved;
        return;
      }
      if (isSaved) {
        unsaved.current = null;
        dropDraft(name);
      }
      setRefused(!isSaved);
    });
  }, [name]);

  useEffect(() => {
    if (unsaved.current === null) setText(outside);
  }, [outside]);

  useEffect(() => {
    if (due.current) timer.current = setTimeout(flush, rest);
    addEventListener('pagehide', flush);
    return () => {
      removeEventListener('pagehide', flush);
      flush();
    };
  }, [flush]);

  const type = useCallback(
    (next: string): void => {
      setText(next);
      setRefused(false);
      unsaved.current = { text: next, base: unsaved.current?.base ?? latest.current.outside };
      due.current = true;
      keepDraft(name, unsaved.current);
      clearTimeout(timer.current);
      timer.current = setTimeout(flush, rest);
    },
    [flush, name],
  );
  /** Puts the refused text on the card all the same. */
  const saveAgain = useCallback((): void => {
    due.current = true;
    isOwn.current = true;
    flush();
  }, [flush]);
  /** Gives the refused text up for what the card says. */
  const giveUp = useCallback((): void => {
    unsaved.current = null;
    due.current = false;
    dropDraft(name);
    setText(latest.current.outside);
    setRefused(false);
    setWrong(null);
  }, [name]);
  return { text, type, flush, wrong, isRefused, saveAgain, giveUp };
}
