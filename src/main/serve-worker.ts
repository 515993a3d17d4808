import { parentPort, workerData } from 'node:worker_threads';
import { v7 as uuidv7 } from 'uuid';
import { type Handler, openHandler, systemClock } from '../api/index.ts';
import { Problem } from '../problem.ts';
import { learnApartIn } from './learn-apart.ts';
import { workerFile } from './program.ts';
import type { FromWorker, ToWorker, WorkerStart } from './worker-messages.ts';

/** Runs the handler inside a worker, so that no query ever blocks a window. */
export async function serveWorker(mode: 'write' | 'report'): Promise<void> {
  const port = parentPort;
  if (!port) throw new Error('This file runs as a worker.');
  const start = workerData as WorkerStart;
  const say = (message: FromWorker): void => port.postMessage(message);

  let handler: Handler;
  try {
    handler = await openHandler(
      { ...start, learnApart: learnApartIn(workerFile('learn-worker')), clock: systemClock, newId: uuidv7 },
      mode,
    );
  } catch (error) {
    const problem =
      error instanceof Problem ? error : new Problem('unexpected', undefined, undefined, { cause: error });
    if (problem.code === 'unexpected') console.error(error);
    say({ kind: 'refused', problem: problem.report() });
    port.close();
    return;
  }

  const running = new Map<number, AbortController>();
  /** Bodies that come in pieces, each asked for when the one before was taken. */
  const bodies = new Map<number, ReadableStreamDefaultController<Uint8Array>>();

  const streamedBody = (id: number): ReadableStream<Uint8Array> =>
    new ReadableStream<Uint8Array>({
      start: (controller) => {
        bodies.set(id, controller);
      },
      pull: () => say({ kind: 'more', id }),
      cancel: () => {
        bodies.delete(id);
      },
    });

  const answer = async (message: Extract<ToWorker, { kind: 'request' }>): Promise<void> => {
    const stop = new AbortController();
    running.set(message.id, stop);
    try {
      const response = await handler.handle(
        new Request(message.url, {
          method: message.method,
          headers: message.headers,
          body:
            message.body === 'streamed'
              ? streamedBody(message.id)
              : (message.body as Uint8Array<ArrayBuffer> | null),
          duplex: 'half',
          signal: stop.signal,
        } as RequestInit),
      );
      say({ kind: 'head', id: message.id, status: response.status, headers: [...response.headers] });
      if (response.body) {
        const reader = response.body.getReader();
        stop.signal.addEventListener('abort', () => void reader.cancel());
        for (;;) {
          const { value, done } = await reader.read();
          if (done) break;
          say({ kind: 'chunk', id: message.id, bytes: value });
        }
      }
    } finally {
      running.delete(message.id);
      bodies.delete(message.id);
      say({ kind: 'end', id: message.id });
    }
  };

  port.on('message', (message: ToWorker) => {
    if (message.kind === 'request') answer(message).catch((error: unknown) => console.error(error));
    if (message.kind === 'body') bodies.get(message.id)?.enqueue(message.bytes);
    if (message.kind === 'body-end') {
      const body = bodies.get(message.id);
      bodies.delete(message.id);
      if (message.broken) body?.error(new Error('The sender went away.'));
      else body?.close();
    }
    if (message.kind === 'cancel') running.get(message.id)?.abort();
    if (message.kind === 'address') handler.tellAddress(message.address);
    if (message.kind === 'close')
      handler
        .close()
        .catch((error: unknown) => console.error(error))
        .finally(() => {
          say({ kind: 'closed' });
          port.close();
        });
  });
  say({ kind: 'ready' });
}
