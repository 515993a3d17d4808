import { useState } from 'react';
import type { InputOf, PartCard } from '../../api/contract.ts';
import { client, queries } from '../session/client.ts';

type Verb =
  | 'parts.save'
  | 'parts.retire'
  | 'parts.saveFitment'
  | 'parts.removeFitment'
  | 'parts.replace'
  | 'parts.equal'
  | 'parts.setPrice';
/** What a form gives; the part, its version and who does it are put in here. */
export type Given<N extends Verb> = Omit<InputOf<N>, 'partNumber' | 'ifVersion' | 'who'>;

/** What reads differently once a part has changed. */
export const partReads = ['parts.find', 'parts.fit', 'parts.get', 'parts.form', 'stock.list'] as const;

export async function keepCard(card: PartCard): Promise<void> {
  queries.setQueryData(['parts.card', { partNumber: card.partNumber }], card);
  await Promise.all(partReads.map((name) => queries.invalidateQueries({ queryKey: [name] })));
}

/** Changes of one part, one at a time, each at the version that is on the screen. */
export function useUpkeep(card: PartCard, who: string) {
  const [problem, setProblem] = useState<unknown>(null);
  const [isBusy, setBusy] = useState(false);
  const run = async <N extends Verb>(name: N, given: Given<N>): Promise<PartCard | null> => {
    setBusy(true);
    setProblem(null);
    try {
      const input = { ...given, partNumber: card.partNumber, ifVersion: card.version, who: who.trim() };
      const after: PartCard = await client.call<Verb>(name, input as InputOf<N>);
      await keepCard(after);
      return after;
    } catch (error) {
      setProblem(error);
      // Somebody else may have been faster: what is there now stands on the screen beside the message.
      await queries.invalidateQueries({ queryKey: ['parts.card'] });
      return null;
    } finally {
      setBusy(false);
    }
  };
  return { run, problem, isBusy };
}
