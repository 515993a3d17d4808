import { judgeReading } from '../diagnosis/index.ts';
import type { Group } from './group.ts';

export const readings = {
  'readings.judge': async (desk, input) => judgeReading((await desk.book()).book, input),
} satisfies Group<'readings.'>;
