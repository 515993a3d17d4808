import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import { openHandler, systemClock } from '../../../src/api/index.ts';

/** Imports a list and says how far it is. Killed from outside. */
const [dataFolder = '', path = ''] = process.argv.slice(2);
const handler = await openHandler({
  dataFolder,
  door: 'call',
  seedFolder: join(import.meta.dirname, '../../../seed/handbook'),
  programVersion: 'test',
  clock: systemClock,
  newId: uuidv7,
});
const { workId } = (await handler.call('parts.importPrices', {
  supplier: 'Nordic Moto',
  path,
  dryRun: false,
})) as { workId: string };
for (;;) {
  const work = (await handler.call('work.get', { workId })) as { state: string; progress: number };
  process.stdout.write(`${work.state} ${work.progress}\n`);
  if (work.state !== 'running') break;
  await new Promise((resolve) => setImmediate(resolve));
}
// Not killed in time: says so by ending.
await handler.close();
