import { Worker } from 'node:worker_threads';
import { Problem } from '../problem.ts';
import type { FromWorker, ToWorker, WorkerStart } from './worker-messages.ts';

/** The near end of a worker: a fetch-style function that only forwards. */
export interface WorkerDoor {
  handle(request: Request): Promise<Response>;
  tellAddress(address: string): void;
  close(): Promise<void>;
}

interface Waiting {
  head(status: number, headers: [string, string][]): void;
  chunk(bytes: Uint8Array): void;
  end(): void;
  fail(error: unknown): void;
  more(): void;
}

/** A file crosses piece by piece as the worker asks for them; everything else is short. */
const isFile = (request: Request): boolean =>
  /^application\/octet-stream\b/i.test(request.headers.get('content-type') ?? '');

const bodiless = new Set([101, 204, 205, 304]);

/**
 * Starts a worker and waits until the shop data is open in it.
 * @throws Problem as the handler gave it when it cannot be opened
 */
export async function startWorker(file: string, start: WorkerStart): Promise<WorkerDoor> {
  const worker = new Worker(file, { workerData: start });
  const waiting = new Map<number, Waiting>();
  let next = 1;
  let closed: (() => void) | null = null;
  const say = (message: ToWorker): void => worker.postMessage(message);

  await new Promise<void>((resolve, reject) => {
    worker.once('error', reject);
    worker.on('message', (message: FromWorker) => {
      if (message.kind === 'ready') resolve();
      else if (message.kind === 'refused')
        reject(new Problem(message.problem.code, message.problem.message, message.problem.where));
      else if (message.kind === 'closed') closed?.();
      else if (message.kind === 'head') waiting.get(message.id)?.head(message.status, message.headers);
      else if (message.kind === 'more') waiting.get(message.id)?.more();
      else if (message.kind === 'chunk') waiting.get(message.id)?.chunk(message.bytes);
      else {
        waiting.get(message.id)?.end();
        waiting.delete(message.id);
      }
    });
    worker.once('exit', () => {
      for (const one of waiting.values())
        one.fail(new Problem('unexpected', 'The worker with the shop data stopped.'));
      waiting.clear();
      closed?.();
      reject(new Problem('unexpected', 'The worker with the shop data stopped before it was ready.'));
    });
  });
  worker.on('error', (error) => console.error(error));

  return {
    async handle(request) {
      const id = next;
      next += 1;
      const pieces = isFile(request) ? (request.body?.getReader() ?? null) : null;
      const body =
        request.method === 'GET' || request.method === 'HEAD'
          ? null
          : pieces
            ? 'streamed'
            : new Uint8Array(await request.arrayBuffer());
      return new Promise<Response>((resolve, reject) => {
        let stream: ReadableStreamDefaultController<Uint8Array> | null = null;
        waiting.set(id, {
          head(status, headers) {
            const content = bodiless.has(status)
              ? null
              : new ReadableStream<Uint8Array>({
                  start: (controller) => {
                    stream = controller;
                  },
                  cancel: () => {
                    // A piece already on its way from the worker must not reach a stream nobody reads.
                    stream = null;
                    say({ kind: 'cancel', id });
                  },
                });
            resolve(new Response(content, { status, headers }));
          },
          chunk: (bytes) => stream?.enqueue(bytes),
          end: () => {
            stream?.close();
            // An answer before the last piece, as to a file that is too long: the rest is not wanted.
            pieces?.cancel().catch(() => undefined);
          },
          more: () => {
            pieces?.read().then(
              ({ value, done }) =>
                say(done ? { kind: 'body-end', id, broken: false } : { kind: 'body', id, bytes: value }),
              () => say({ kind: 'body-end', id, broken: true }),
            );
          },
          fail: (error) => {
            reject(error);
            stream?.error(error);
          },
        });
        // Whoever asked went away before the answer began: a report need not be finished.
        request.signal.addEventListener('abort', () => {
          if (waiting.has(id)) say({ kind: 'cancel', id });
        });
        say({
          kind: 'request',
          id,
          url: request.url,
          method: request.method,
          headers: [...request.headers],
          body,
        });
      });
    },
    tellAddress: (address) => say({ kind: 'address', address }),
    close: () =>
      new Promise((resolve) => {
        closed = resolve;
        say({ kind: 'close' });
      }),
  };
}
