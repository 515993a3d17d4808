import { keepPreviousData, type UseQueryResult, useQuery } from '@tanstack/react-query';
import type { InputOf, OutputOf, ProcedureName } from '../../api/contract.ts';
import { client } from './client.ts';
import { newId } from './new-id.ts';

const running = new Map<string, string>();

/** Under which id a report that is being counted can be watched and stopped; undefined once it has ended. */
export const workIdOf = (key: string): string | undefined => running.get(key);

export type Report<T> = UseQueryResult<T> & { readonly key: string };

/**
 * Reads a report that may take long. The last answer stays while the next is counted; a report that nobody looks at any more,
 * because the page was left or asks for something else, is stopped.
 */
export function useReport<N extends ProcedureName>(name: N, input: InputOf<N>): Report<OutputOf<N>> {
  const key = JSON.stringify([name, input]);
  const query = useQuery<OutputOf<N>>({
    queryKey: [name, input],
    queryFn: async ({ signal }) => {
      const workId = newId();
      running.set(key, workId);
      // Not every door tells the worker that nobody listens any more.
      const stop = (): void => void client.call('report.cancel', { workId }).catch(() => undefined);
      signal.addEventListener('abort', stop);
      try {
        return await client.call(name, input, { signal, workId });
      } finally {
        signal.removeEventListener('abort', stop);
        if (running.get(key) === workId) running.delete(key);
      }
    },
    placeholderData: keepPreviousData as never,
    staleTime: 60_000,
  });
  return { ...query, key };
}
