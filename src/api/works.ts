import { Problem } from '../problem.ts';
import type { WorkState } from './contract.ts';

/** Handed to a long step: say how far it is, and look whether it should stop. */
export interface Worker {
  /** @param progress 0 to 1 */
  tell(progress: number, says: string): void;
  readonly signal: AbortSignal;
  /** Lets other requests through, and throws Problem cancelled once the work was cancelled. */
  breathe(): Promise<void>;
}

interface Entry {
  state: WorkState;
  readonly stop: AbortController;
  readonly watchers: Set<(state: WorkState) => void>;
}

const rememberedRuns = 20;
/** Work that was called off before it came in; of older ones nothing comes any more. */
const rememberedUnwanted = 50;

/** Long work of this program: started once, watched by any number, cancelled explicitly. */
export class Works {
  readonly #entries = new Map<string, Entry>();
  readonly #waitedFor: string[] = [];
  readonly #unwanted = new Set<string>();

  /** A new entry, and the worker that moves it. */
  #begin(workId: string, title: string) {
    const stop = new AbortController();
    const entry: Entry = {
      state: { workId, title, state: 'running', progress: 0, says: '' },
      stop,
      watchers: new Set(),
    };
    this.#entries.set(workId, entry);
    const change = (part: Partial<WorkState>): void => {
      entry.state = { ...entry.state, ...part };
      for (const watcher of entry.watchers) watcher(entry.state);
    };
    const worker: Worker = {
      signal: stop.signal,
      tell: (progress, says) => change({ progress: Math.min(1, Math.max(0, progress)), says }),
      breathe: async () => {
        await new Promise((resolve) => setImmediate(resolve));
        if (stop.signal.aborted) throw new Problem('cancelled');
      },
    };
    const fail = (error: unknown): Problem => {
      const problem =
        error instanceof Problem ? error : new Problem('unexpected', undefined, undefined, { cause: error });
      change({ state: problem.code === 'cancelled' ? 'cancelled' : 'failed', problem: problem.report() });
      return problem;
    };
    return { stop, worker, change, fail };
  }

  /** Starts `step` and returns at once. */
  start(workId: string, title: string, step: (worker: Worker) => Promise<unknown>): void {
    const { worker, change, fail } = this.#begin(workId, title);
    step(worker).then(
      (result) => change({ state: 'done', progress: 1, result }),
      (error: unknown) => {
        if (fail(error).code === 'unexpected') console.error(error);
      },
    );
  }

  /**
   * Runs a `step` that somebody waits for: its answer is handed over and not kept; it can be watched and stopped meanwhile.
   * @throws Problem conflict where work of this id runs already; cancelled once it was stopped
   */
  async run<T>(
    workId: string,
    title: string,
    step: (worker: Worker) => Promise<T>,
    signal?: AbortSignal,
  ): Promise<T> {
    if (this.#entries.get(workId)?.state.state === 'running')
      throw new Problem('conflict', `Work ${workId} is running already.`, { field: 'workId', id: workId });
    if (this.#unwanted.delete(workId)) throw new Problem('cancelled');
    const { stop, worker, change, fail } = this.#begin(workId, title);
    const onAbort = (): void => stop.abort();
    if (signal?.aborted) onAbort();
    signal?.addEventListener('abort', onAbort);
    try {
      const answer = await step(worker);
      change({ state: 'done', progress: 1 });
      return answer;
    } catch (error) {
      fail(error);
      throw error;
    } finally {
      signal?.removeEventListener('abort', onAbort);
      this.#waitedFor.push(workId);
      // Who watches learns how it ended; older ones are forgotten.
      for (const old of this.#waitedFor.splice(0, this.#waitedFor.length - rememberedRuns))
        if (this.#entries.get(old)?.state.state !== 'running') this.#entries.delete(old);
    }
  }

  #entry(workId: string): Entry {
    const entry = this.#entries.get(workId);
    if (!entry)
      throw new Problem(
        'not-found',
        `There is no work ${workId}; it may belong to an earlier start of the program.`,
        {
          field: 'workId',
          id: workId,
        },
      );
    return entry;
  }

  get(workId: string): WorkState {
    return this.#entry(workId).state;
  }

  cancel(workId: string): WorkState {
    const entry = this.#entry(workId);
    entry.stop.abort();
    return entry.state;
  }

  /** The same for work that somebody waits for: his word may be here before the work is, which then does not begin. */
  callOff(workId: string): WorkState {
    if (this.#entries.has(workId)) return this.cancel(workId);
    this.#unwanted.add(workId);
    for (const old of this.#unwanted)
      if (this.#unwanted.size > rememberedUnwanted) this.#unwanted.delete(old);
    return { workId, title: '', state: 'cancelled', progress: 0, says: '' };
  }

  cancelAll(): void {
    for (const entry of this.#entries.values()) entry.stop.abort();
  }

  /** States of a piece of work as lines of JSON, ending when it ends. */
  stream(workId: string): ReadableStream<Uint8Array> {
    const entry = this.#entry(workId);
    const encoder = new TextEncoder();
    let watcher: ((state: WorkState) => void) | null = null;
    return new ReadableStream<Uint8Array>({
      start(controller) {
        watcher = (state) => {
          controller.enqueue(encoder.encode(`${JSON.stringify(state)}\n`));
          if (state.state === 'running' || !watcher) return;
          entry.watchers.delete(watcher);
          watcher = null;
          controller.close();
        };
        entry.watchers.add(watcher);
        watcher(entry.state);
      },
      cancel() {
        if (watcher) entry.watchers.delete(watcher);
        watcher = null;
      },
    });
  }
}
