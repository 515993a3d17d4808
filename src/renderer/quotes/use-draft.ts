import { useCallback, useEffect, useRef, useState } from 'react';
import type { ProcedureName, QuoteView } from '../../api/contract.ts';
import { Problem } from '../../problem.ts';
import { client, queries } from '../session/client.ts';
import { say } from '../session/notices.ts';
import { type Draft, draftOf, isSendable, sentDraft } from './draft-lines.ts';

/** Screens that show what a quote changes. */
const shown: readonly ProcedureName[] = ['quotes.list', 'jobs.get', 'jobs.list'];

/** Typing rests this long before it is kept. */
const restMs = 500;

/**
 * A quote as it is typed. What is typed is kept by itself a moment later, one change after the other; what cannot be kept
 * yet (a price that is no number) waits until it can. Somebody else's change is never written over.
 */
export function useDraft(quote: QuoteView) {
  const [draft, setDraft] = useState<Draft>(() => draftOf(quote));
  const [problem, setProblem] = useState<unknown>(null);
  const [isSaving, setSaving] = useState(false);
  const [isKept, setKept] = useState(true);
  const latest = useRef(draft);
  const version = useRef(quote.version);
  const dirty = useRef(false);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const queue = useRef<Promise<boolean>>(Promise.resolve(true));
  const { quoteId } = quote;

  const load = useCallback((fresh: QuoteView): void => {
    version.current = fresh.version;
    dirty.current = false;
    latest.current = draftOf(fresh);
    setDraft(latest.current);
    setKept(true);
  }, []);

  const put = useCallback(async (): Promise<boolean> => {
    if (!dirty.current) return true;
    if (!isSendable(latest.current)) return false;
    dirty.current = false;
    setSaving(true);
    setProblem(null);
    try {
      const after = await client.call('quotes.draft', {
        quoteId,
        ifVersion: version.current,
        ...sentDraft(latest.current),
      });
      version.current = after.version;
      queries.setQueryData(['quotes.get', { quoteId }], after);
      for (const name of shown) void queries.invalidateQueries({ queryKey: [name] });
      if (!dirty.current) setKept(true);
      return true;
    } catch (error) {
      dirty.current = true;
      if (error instanceof Problem && error.code === 'conflict') {
        load(await client.call('quotes.get', { quoteId }));
        void queries.invalidateQueries({ queryKey: ['quotes.get'] });
        say(
          'Somebody else changed this quote meanwhile. It was loaded again; your last change was not kept, so please look and make it again.',
        );
      } else setProblem(error);
      return false;
    } finally {
      setSaving(false);
    }
  }, [quoteId, load]);

  /** Keeps what is typed now, after what is on its way. Answers false where something of it cannot be kept. */
  const flush = useCallback((): Promise<boolean> => {
    clearTimeout(timer.current);
    queue.current = queue.current.then(put);
    return queue.current;
  }, [put]);

  const change = useCallback(
    (step: (before: Draft) => Draft, atOnce = false): void => {
      latest.current = step(latest.current);
      dirty.current = true;
      setDraft(latest.current);
      setKept(false);
      clearTimeout(timer.current);
      if (atOnce) void flush();
      else timer.current = setTimeout(() => void flush(), restMs);
    },
    [flush],
  );

  // The quote was changed elsewhere in this window, or a part was added with one key.
  useEffect(() => {
    if (quote.version > version.current && !dirty.current) load(quote);
  }, [quote, load]);

  // A window that is closed or a page that is left keeps what was typed last.
  useEffect(() => {
    const keep = (): void => void flush();
    addEventListener('pagehide', keep);
    return () => {
      removeEventListener('pagehide', keep);
      keep();
    };
  }, [flush]);

  return { draft, change, flush, problem, isSaving, isKept, version };
}

export type DraftDesk = ReturnType<typeof useDraft>;
