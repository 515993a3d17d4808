import { useCallback, useState } from 'react';
import { useNavigate } from 'react-router';
import type { InputOf, OutputOf } from '../../api/contract.ts';
import { Problem } from '../../problem.ts';
import { problemWords } from '../pieces/problem-note.tsx';
import { client, queries } from '../session/client.ts';
import { newId } from '../session/new-id.ts';
import { dropNotice, say } from '../session/notices.ts';
import { openQuote, setOpenQuote } from './open-quote.ts';

export interface AddTarget {
  /** The part goes onto the newest draft of this job. */
  readonly job?: { readonly jobId: string; readonly number: number };
  /** A new quote without a job is for this vehicle. */
  readonly vehicleId?: string;
}

/** The last word about an added part: the next one takes its place. */
let lastSaid: number | null = null;

type Added = OutputOf<'quotes.add'>;

async function send(partNumber: string, quantity: number, target: AddTarget): Promise<Added> {
  const asked: InputOf<'quotes.add'> = { addId: newId(), partNumber, quantity };
  if (target.job) return client.call('quotes.add', { ...asked, jobId: target.job.jobId });
  const fresh = target.vehicleId ? { vehicleId: target.vehicleId } : {};
  const open = openQuote();
  if (!open) return client.call('quotes.add', { ...asked, ...fresh });
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

/** Adds a part to the quote at hand and says so, with a way to open that quote. */
export function useAddPart(target: AddTarget) {
  const navigate = useNavigate();
  const [isBusy, setBusy] = useState(false);
  const { job, vehicleId } = target;
  const add = useCallback(
    async (partNumber: string, quantity = 1): Promise<void> => {
      setBusy(true);
      try {
        const { quote, says } = await send(partNumber, quantity, {
          ...(job ? { job } : {}),
          ...(vehicleId ? { vehicleId } : {}),
        });
        queries.setQueryData(['quotes.get', { quoteId: quote.quoteId }], quote);
        void queries.invalidateQueries({ queryKey: ['quotes.list'] });
        if (!job) setOpenQuote({ quoteId: quote.quoteId, number: quote.number });
        if (lastSaid !== null) dropNotice(lastSaid);
        lastSaid = say(says, {
          label: 'Open the quote',
          run: () => void navigate(job ? `/bench/${job.number}/quote` : `/counter/quotes/${quote.quoteId}`),
        });
      } catch (error) {
        const { message, next } = problemWords(error);
        say(`${message} ${next}`);
      } finally {
        setBusy(false);
      }
    },
    [job, vehicleId, navigate],
  );
  return { add, isBusy };
}
