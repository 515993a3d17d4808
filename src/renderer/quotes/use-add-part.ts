import { useCallback, useState } from 'react';
import { useNavigate } from 'react-router';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { Problem } from '../../problem.ts';
import { problemWords } from '../pieces/problem-note.tsx';
import { client, queries } from '../session/client.ts';
import { newId } from '../session/new-id.ts';
import { dropNotice, say } from '../session/notices.ts';
import { openQuote, openQuoteOf, setOpenQuote } from './open-quote.ts';

export interface AddTarget {
  /** The part goes onto the newest draft of this job. */
  readonly job?: { readonly jobId: string; readonly number: number } | undefined;
  /** Without a job: the vehicle, or for whom in words, that is chosen at the Counter. */
  readonly vehicleId?: string | undefined;
  readonly forWhom?: string | undefined;
}

/** The last word about an added part: the next one takes its place. */
let lastSaid: number | null = null;

type Added = OutputOf<'quotes.add'>;

async function send(
  part: Pick<InputOf<'quotes.add'>, 'partNumber' | 'quantity' | 'evenRetired'>,
  { job, vehicleId, forWhom }: AddTarget,
): Promise<Added> {
  const asked: InputOf<'quotes.add'> = { addId: newId(), ...part };
  if (job) return client.call('quotes.add', { ...asked, jobId: job.jobId });
  const fresh = vehicleId ? { vehicleId } : forWhom ? { forWhom } : {};
  const whose = vehicleId ?? forWhom ?? '';
  const open = openQuote();
  // The next customer's part never lands on the quote of the one before.
  if (!open || (whose !== '' && whose !== open.whose))
    return client.call('quotes.add', { ...asked, ...fresh });
  try {
    return await client.call('quotes.add', { ...asked, quoteId: open.quoteId });
  } catch (error) {
    const isGone = error instanceof Problem && error.code === 'not-found' && error.message.includes('quote');
    const isIssued =
      error instanceof Problem && error.code === 'not-allowed-now' && /was \w+ already/.test(error.message);
    if (!isGone && !isIssued) throw error;
    // What was handed out is not changed behind the customer's back: the next part starts a new quote.
    return client.call('quotes.add', { ...asked, addId: newId(), ...fresh });
  }
}

/** The part is out of use: it goes on only when a person was told and wants it all the same. */
export const isOutOfUse = (error: unknown): boolean =>
  error instanceof Problem && error.report().where?.field === 'evenRetired';

/** Adds a part to the quote at hand and says so, with a way to open that quote. */
export function useAddPart({ job, vehicleId, forWhom }: AddTarget) {
  const navigate = useNavigate();
  const [isBusy, setBusy] = useState(false);
  const add = useCallback(
    async (partNumber: string, quantity = 1, evenRetired = false): Promise<void> => {
      setBusy(true);
      if (lastSaid !== null) dropNotice(lastSaid);
      try {
        const part = { partNumber, quantity, ...(evenRetired ? { evenRetired } : {}) };
        const { quote, says } = await send(part, { job, vehicleId, forWhom });
        queries.setQueryData(['quotes.get', { quoteId: quote.quoteId }], quote);
        void queries.invalidateQueries({ queryKey: ['quotes.list'] });
        if (!job) setOpenQuote(openQuoteOf(quote));
        lastSaid = say(says, {
          label: 'Open the quote',
          run: () => void navigate(job ? `/bench/${job.number}/quote` : `/counter/quotes/${quote.quoteId}`),
        });
      } catch (error) {
        const { message, next } = problemWords(error);
        lastSaid = isOutOfUse(error)
          ? say(message, { label: 'Add it all the same', run: () => void add(partNumber, quantity, true) })
          : say(`${message} ${next}`);
      } finally {
        setBusy(false);
      }
    },
    [job, vehicleId, forWhom, navigate],
  );
  return { add, isBusy };
}
