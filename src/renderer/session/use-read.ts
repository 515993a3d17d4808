import { keepPreviousData, type UseQueryResult, useQuery } from '@tanstack/react-query';
import type { InputOf, OutputOf, ProcedureName } from '../../api/contract.ts';
import { client } from './client.ts';

/**
 * Reads one procedure and keeps its answer. `null` as input reads nothing.
 * With `keep` the last answer stays on screen while the next one is on its way, so that nothing jumps.
 */
export function useRead<N extends ProcedureName>(
  name: N,
  input: InputOf<N> | null,
  options: { keep?: boolean; stale?: number } = {},
): UseQueryResult<OutputOf<N>> {
  return useQuery<OutputOf<N>>({
    queryKey: [name, input],
    queryFn: ({ signal }) => client.call(name, input as InputOf<N>, { signal }),
    enabled: input !== null,
    ...(options.keep ? { placeholderData: keepPreviousData as never } : {}),
    ...(options.stale === undefined ? {} : { staleTime: options.stale }),
  });
}
