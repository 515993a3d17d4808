import { contract, type Door, type ProcedureName } from '../api/index.ts';
import { learnedFolder, programVersion, seedFolder, workerFile } from './program.ts';
import { startWorker, type WorkerDoor } from './worker-door.ts';

const nameIn = (url: string): string => new URL(url).pathname.slice('/api/'.length);

const isReport = (name: string): boolean =>
  Object.hasOwn(contract, name) && contract[name as ProcedureName].kind === 'report';

/**
 * The two workers behind a window: one with the handler and the only write connection, one that reads snapshots for
 * reports. Everything goes to the first but reports. A restore puts another file in place: the second one lets go of the old
 * file before and opens the new one at the next report.
 */
export async function startWorkers(dataFolder: string, door: Door): Promise<WorkerDoor> {
  const start = { dataFolder, door, seedFolder: seedFolder(), learnedFolder, programVersion };
  const writer = await startWorker(workerFile('handler-worker'), start);
  let reader: Promise<WorkerDoor> | null = null;
  let restoring: Promise<unknown> = Promise.resolve();

  const readerNow = (): Promise<WorkerDoor> => {
    const starting = reader ?? startWorker(workerFile('report-worker'), start);
    reader = starting;
    // Data that cannot be opened now may be put right later.
    starting.catch(() => {
      if (reader === starting) reader = null;
    });
    return starting;
  };
  const closeReader = async (): Promise<void> => {
    const open = await reader?.catch(() => null);
    reader = null;
    await open?.close();
  };
  const restore = async (request: Request): Promise<Response> => {
    await closeReader();
    return writer.handle(request);
  };
  return {
    async handle(request) {
      const name = nameIn(request.url);
      if (name === 'shop.restore') {
        const answer = restore(request);
        restoring = answer.catch(() => undefined);
        return answer;
      }
      if (!isReport(name)) return writer.handle(request);
      await restoring;
      return (await readerNow()).handle(request);
    },
    tellAddress: (address) => writer.tellAddress(address),
    async close() {
      await closeReader();
      await writer.close();
    },
  };
}
