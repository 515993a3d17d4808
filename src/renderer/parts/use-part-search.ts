import { useCallback, useRef, useState } from 'react';
import type { PartView } from '../../api/contract.ts';
import { client, queries } from '../session/client.ts';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';

const ask = (text: string) => ({ text, limit: 40 });

/** What the one field finds. Enter takes the marked part, also where a scanner typed faster than it was looked up. */
export function usePartSearch(onOpen: (partNumber: string) => void) {
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const [problem, setProblem] = useState<unknown>(null);
  const turn = useRef(0);
  const typed = text.trim();
  const asked = useDelayed(typed, 120);
  const read = useRead('parts.find', asked ? ask(asked) : null, { keep: true });
  const parts: readonly PartView[] = typed ? (read.data?.parts ?? []) : [];
  const chosen = parts[Math.min(at, parts.length - 1)];
  const isFresh = typed === asked && read.isSuccess && !read.isPlaceholderData;

  const type = useCallback((next: string): void => {
    turn.current += 1;
    setText(next);
    setAt(0);
    setProblem(null);
  }, []);

  const move = (by: 1 | -1): void => {
    if (parts.length > 0) setAt((Math.min(at, parts.length - 1) + by + parts.length) % parts.length);
  };

  const take = async (): Promise<void> => {
    if (!typed) return;
    if (isFresh) {
      if (chosen) onOpen(chosen.partNumber);
      return;
    }
    const mine = turn.current;
    try {
      const { parts: found } = await queries.fetchQuery({
        queryKey: ['parts.find', ask(typed)],
        queryFn: () => client.call('parts.find', ask(typed)),
      });
      const [first] = found;
      if (first && mine === turn.current) onOpen(first.partNumber);
    } catch (error) {
      setProblem(error);
    }
  };

  return {
    text,
    typed,
    type,
    move,
    take,
    parts,
    chosen,
    isFresh,
    note: typed ? (read.data?.note ?? null) : null,
    problem: problem ?? (typed ? read.error : null),
  };
}
