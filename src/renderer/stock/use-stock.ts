import { useState } from 'react';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { client, queries } from '../session/client.ts';
import { newId } from '../session/new-id.ts';

type JobMove = 'stock.reserve' | 'stock.release' | 'stock.use' | 'stock.return';
type Verb = JobMove | 'stock.arrive' | 'stock.order' | 'stock.hold';

/** What reads differently once something moved on the shelf. */
const reads = [
  'stock.list',
  'parts.find',
  'parts.fit',
  'parts.get',
  'parts.card',
  'jobs.get',
  'jobs.list',
  'jobs.bench',
  'patterns.stock',
] as const;

/**
 * One action on the shelf. Its id is made before the click and kept until the answer is there, so that a second click, or the
 * same click sent again, moves nothing twice.
 */
export function useStock() {
  const [id, setId] = useState(newId);
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<unknown>(null);
  const run = async <N extends Verb>(
    name: N,
    make: (id: string) => InputOf<N>,
  ): Promise<OutputOf<N> | null> => {
    setBusy(true);
    setProblem(null);
    try {
      const answer = await client.call(name, make(id));
      setId(newId());
      await Promise.all(reads.map((read) => queries.invalidateQueries({ queryKey: [read] })));
      return answer;
    } catch (error) {
      // What was refused is a new try with a new id: the amount may be another.
      setId(newId());
      setProblem(error);
      return null;
    } finally {
      setBusy(false);
    }
  };
  return { run, isBusy, problem };
}
