import { useCallback, useRef, useState } from 'react';
import type { InputOf, JobView } from '../../api/contract.ts';
import { Problem } from '../../problem.ts';
import { client, queries } from '../session/client.ts';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';

/** The writes that answer with the whole card. */
export type JobWrite =
  | 'jobs.update'
  | 'jobs.addConcern'
  | 'jobs.editConcern'
  | 'jobs.record'
  | 'jobs.skip'
  | 'jobs.undo'
  | 'jobs.approve'
  | 'jobs.advise'
  | 'jobs.settleAdvisory'
  | 'jobs.close'
  | 'jobs.reopen'
  | 'jobs.classify';

type CardInput<N extends JobWrite> = N extends JobWrite ? Omit<InputOf<N>, 'jobId' | 'ifVersion'> : never;

/** Writes that say which version of the card they were made from, so that nobody decides on a card that has changed. */
const guarded = new Set<JobWrite>([
  'jobs.update',
  'jobs.addConcern',
  'jobs.editConcern',
  'jobs.record',
  'jobs.skip',
  'jobs.undo',
  'jobs.approve',
  'jobs.advise',
  'jobs.close',
  'jobs.reopen',
  'jobs.classify',
]);
const shownElsewhere = ['jobs.bench', 'jobs.list', 'causes.rank', 'vehicles.get', 'shop.status'];

/** Whether the fields that a change sets stand on both cards the same. */
function isUntouched(input: object, before: JobView, after: JobView): boolean {
  if (!('set' in input) || typeof input.set !== 'object' || input.set === null) return false;
  return (Object.keys(input.set) as (keyof JobView)[]).every(
    (field) => JSON.stringify(before[field]) === JSON.stringify(after[field]),
  );
}

/** One job card, and the one way to change it: writes go one after the other, each from the newest version. */
export function useJob(number: number) {
  const key = ['jobs.get', { number }];
  const read = useRead('jobs.get', { number });
  const [problem, setProblem] = useState<unknown>(null);
  const [waiting, setWaiting] = useState(0);
  const [resets, setResets] = useState(0);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const reload = read.refetch;

  const write = async <N extends JobWrite>(name: N, input: CardInput<N>): Promise<JobView | null> => {
    const job = queries.getQueryData<JobView>(key);
    if (!job) return null;
    setProblem(null);
    try {
      const full = { ...input, jobId: job.jobId, ...(guarded.has(name) ? { ifVersion: job.version } : {}) };
      const after = (await client.call(name, full as InputOf<N>)) as JobView;
      queries.setQueryData(key, after);
      for (const shown of shownElsewhere) void queries.invalidateQueries({ queryKey: [shown] });
      return after;
    } catch (error) {
      if (error instanceof Problem && error.code === 'conflict') {
        const fresh = (await reload()).data;
        // Somebody changed other fields of the card: this change still holds and goes on top of theirs.
        if (fresh && isUntouched(input, job, fresh) && fresh.version !== job.version)
          return write(name, input);
        setResets((count) => count + 1);
        say(
          'Somebody else changed this card meanwhile. It was loaded again; your last step was not saved, so please look and do it again.',
        );
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

  return { read, run, problem, forgetProblem: () => setProblem(null), isBusy: waiting > 0, resets };
}

export interface JobDesk {
  readonly job: JobView;
  readonly run: ReturnType<typeof useJob>['run'];
  readonly isBusy: boolean;
  /** Counts the changes that were refused: fields then show again what is kept. */
  readonly resets: number;
}
