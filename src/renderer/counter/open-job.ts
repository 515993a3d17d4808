import type { JobView } from '../../api/contract.ts';
import { client, queries } from '../session/client.ts';
import { type Intake, openInput } from './intake.ts';

/** Opens the job card, then records the answers of the second and further concerns on it. */
export async function openJob(intake: Intake): Promise<JobView> {
  let job = await client.call('jobs.open', openInput(intake));
  for (const concern of intake.concerns.slice(1)) {
    for (const { reading } of concern.answers) {
      job = await client.call('jobs.record', {
        jobId: job.jobId,
        concernId: concern.concernId,
        ifVersion: job.version,
        reading,
      });
    }
  }
  queries.setQueryData(['jobs.get', { number: job.number }], job);
  for (const changed of ['jobs.list', 'shop.status', 'vehicles.get', 'counter.find']) {
    void queries.invalidateQueries({ queryKey: [changed] });
  }
  return job;
}
