import { QueryClient } from '@tanstack/react-query';
import { createClient } from '../../api/client.ts';
import { Problem } from '../../problem.ts';

/** Every door serves the page and the procedures from one origin. */
export const client = createClient();

export const queries = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: 5_000,
      // A named problem stays the same when asked again; only a broken connection is tried once more.
      retry: (count, error) => count < 1 && !(error instanceof Problem),
    },
  },
});
