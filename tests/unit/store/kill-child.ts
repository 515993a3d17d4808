import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import { openHandler, systemClock } from '../../../src/api/index.ts';

/** Opens jobs as fast as it can and says each number once its answer is there. Killed from outside. */
const handler = await openHandler({
  dataFolder: process.argv[2] ?? '',
  door: 'call',
  seedFolder: join(import.meta.dirname, '../../../seed/handbook'),
  programVersion: 'test',
  clock: systemClock,
  newId: uuidv7,
});
process.stdout.write('ready\n');
for (let n = 0; ; n += 1) {
  const job = (await handler.call('jobs.open', {
    vehicle: { plate: `KILL ${n}`, modelWords: 'x' },
    concerns: [{ words: 'no start' }],
  })) as { jobId: string };
  await handler.call('jobs.close', { jobId: job.jobId, closing: { kind: 'not-reproduced' } });
  process.stdout.write(`${job.jobId}\n`);
}
