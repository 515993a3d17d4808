import { z } from 'zod';
import { procedure } from './procedure.ts';
import { workState } from './shop.ts';

const workId = z.string().min(1).max(80);

/**
 * A caller that may not want to wait names a report by an id of its own (the `x-work-id` of the request); with it the report
 * can be watched and stopped while it runs. Both go to the worker that reads, where the reports are.
 */
export const reportWorkProcedures = {
  'report.progress': procedure({
    kind: 'report',
    does: 'How far a running report is.',
    input: z.strictObject({ workId }),
    output: workState,
  }),
  'report.cancel': procedure({
    kind: 'report',
    does: 'Stops a report, also one that has not come in yet; whoever waits for it is told that it was cancelled.',
    input: z.strictObject({ workId }),
    output: workState,
  }),
} as const;
