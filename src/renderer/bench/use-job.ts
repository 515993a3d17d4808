import { useCallback, useRef, useState } from 'react';
import type { InputOf, JobView } from '../../api/contract.ts';
import { Problem } from '../../problem.ts';
import { client, queries } from '../session/client.ts';
import { useRead } from '../session/use-read.ts';
import { type CardInput, conflictWords, type JobWrite, stillHolds } from './card-conflict.ts';

const shownElsewhere = ['jobs.bench', 'jobs.list', 'causes.rank', 'vehicles.get', 'shop.status'];

/** One job card, and the one way to change it: writes go one after the other, each from the newest version. */
export function useJob(number: number) {
  const key = ['jobs.get', { number }];
  const read = useRead('jobs.get', { number });
  const [problem, setProblem] = useState<unknown>(null);
  const [waiting, setWaiting] = useState(0);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const reload = read.refetch;

  const write = async <N extends JobWrite>(name: N, input: CardInput<N>): Promise<JobView | null> => {
    const job = queries.getQueryData<JobView>(key);
    if (!job) return null;
    setProblem(null);
    try {
      // Every change says from which version it was made, so that nobody decides on a card that has changed.
      const full = { ...input, jobId: job.jobId, ifVersion: job.version };
      const after = (await client.call(name, full as InputOf<N>)) as JobView;
      queries.setQueryData(key, after);
      for (const shown of shownElsewhere) void queries.invalidateQueries({ queryKey: [shown] });
      return after;
    } catch (error) {
      if (error instanceof Problem && error.code === 'conflict') {
        const fresh = (await reload()).data;
        if (!fresh || fresh.version === job.version) {
          setProblem(error);
          return null;
        }
        // Another hand changed something else on the card: this change still holds and goes on top of theirs.
        if (stillHolds(name, input, job, fresh)) return write(name, input);
        setProblem(conflictWords(job, fresh));
      } else {
        setProblem(error);
      }
      return null;
    }
  };

  const latest = useRef(write);
  latest.current = write;
  const run = useCallback(<N extends JobWrite>(name: N, input: CardInput<N>): Promise<JobView | null> => {
    setWaiting((count) => count + 1);
    const turn = queue.current.then(() => latest.current(name, input));
    queue.current = turn;
    return turn.finally(() => setWaiting((count) => count - 1));
  }, []);

  return { read, run, problem, forgetProblem: () => setProblem(null), isBusy: waiting > 0 };
}

export interface JobDesk {
  readonly job: JobView;
  readonly run: ReturnType<typeof useJob>['run'];
  readonly isBusy: boolean;
}
