import { useCallback, useState } from 'react';
import type { InputOf, OutputOf, ProcedureName } from '../../api/contract.ts';
import { client, queries } from './client.ts';

/** One write: runs it, remembers its problem, and lets the screens that show the named procedures read again. */
export function useWrite<N extends ProcedureName>(name: N, changes: readonly ProcedureName[] = []) {
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const run = useCallback(
    async (input: InputOf<N>): Promise<OutputOf<N> | null> => {
      setBusy(true);
      setProblem(null);
      try {
        const answer = await client.call(name, input);
        await Promise.all(changes.map((changed) => queries.invalidateQueries({ queryKey: [changed] })));
        return answer;
      } catch (error) {
        setProblem(error);
        return null;
      } finally {
        setBusy(false);
      }
    },
    [name, changes],
  );
  return { run, problem, isBusy, forget: () => setProblem(null) };
}
