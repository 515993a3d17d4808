import { contract, type Door, type ProcedureName } from '../api/index.ts';
import { learnedFolder, programVersion, seedFolder, workerFile } from './program.ts';
import { startWorker, type WorkerDoor } from './worker-door.ts';

const isReport = (url: string): boolean => {
  const name = new URL(url).pathname.slice('/api/'.length);
  return Object.hasOwn(contract, name) && contract[name as ProcedureName].kind === 'report';
};

/**
 * The two workers behind a window: one with the handler and the only write connection, one that reads snapshots for
 * reports. Everything goes to the first but reports.
 */
export async function startWorkers(dataFolder: string, door: Door): Promise<WorkerDoor> {
  const start = { dataFolder, door, seedFolder: seedFolder(), learnedFolder, programVersion };
  const writer = await startWorker(workerFile('handler-worker'), start);
  let reader: WorkerDoor | null = null;
  return {
    async handle(request) {
      if (!isReport(request.url)) return writer.handle(request);
      reader ??= await startWorker(workerFile('report-worker'), start);
      return reader.handle(request);
    },
    tellAddress: (address) => writer.tellAddress(address),
    async close() {
      await reader?.close();
      await writer.close();
    },
  };
}
