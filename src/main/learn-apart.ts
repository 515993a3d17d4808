import { Worker } from 'node:worker_threads';
import type { LearnApart } from '../api/index.ts';

/** Learns the words of a book in a worker that lives as long as the training, and ends it when that is not wanted any more. */
export const learnApartIn =
  (file: string | URL): LearnApart =>
  (job, signal) =>
    new Promise((resolve, reject) => {
      const worker = new Worker(file, { workerData: job });
      const stop = (): void => {
        void worker.terminate();
        reject(new Error('The training is not wanted any more.'));
      };
      if (signal.aborted) stop();
      signal.addEventListener('abort', stop);
      worker.once('message', resolve);
      worker.once('error', reject);
      worker.once('exit', () => {
        signal.removeEventListener('abort', stop);
        // After an answer this changes nothing.
        reject(new Error('The worker that learns the phrases stopped before it was done.'));
      });
    });
