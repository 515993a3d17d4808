import type { JobStatus } from '../../api/contract.ts';

export const statusWords: Record<JobStatus, string> = {
  booked: 'Booked',
  'checked-in': 'Checked in',
  diagnosing: 'Diagnosing',
  'awaiting-approval': 'Awaiting approval',
  'waiting-for-parts': 'Waiting for parts',
  'on-charge': 'On charge',
  'in-work': 'In work',
  'final-check': 'Final check',
  ready: 'Ready',
  collected: 'Collected',
};

/** What a job in a status waits for. */
export const waitsOn: Record<JobStatus, string> = {
  booked: 'until the customer brings it',
  'checked-in': 'until a technician starts',
  diagnosing: 'until the cause is found',
  'awaiting-approval': 'until the customer says yes',
  'waiting-for-parts': 'until the parts arrive',
  'on-charge': 'until the battery is full',
  'in-work': 'until the repair is done',
  'final-check': 'until the final check is done',
  ready: 'until the customer collects it',
  collected: 'nothing; it is done',
};

export const urgencyWords = { now: 'Now', soon: 'Soon', watch: 'Watch' } as const;
export const proofWords = {
  retested: 'Retested',
  replaced: 'Part fitted, not retested',
  measured: 'Found, not repaired',
} as const;
export const apartWords = {
  'not-reproduced': 'Could not make it happen',
  normal: 'Normal for this machine',
  handling: "The rider's handling",
} as const;
export const howWords = { 'in-person': 'in person', phone: 'by phone', message: 'by message' } as const;
export const comebackStates = {
  'in-doubt': 'in doubt until this concern is closed',
  'diagnosis-stands': 'the first diagnosis stands',
  'diagnosis-taken-back': 'the first diagnosis was taken back',
  'no-comeback': 'no comeback',
} as const;
export const classifyWords = {
  'wrong-diagnosis': 'Wrong diagnosis',
  'part-failed': 'Part failed',
  workmanship: 'Workmanship',
  unrelated: 'Unrelated',
  declined: 'Declined work',
} as const;
export const kindWords = {
  ask: 'Ask',
  look: 'Look',
  listen: 'Listen',
  feel: 'Feel',
  probe: 'Probe',
  measure: 'Measure',
} as const;
export const basisWords: Record<string, string> = {
  published: 'published',
  'common-practice': 'common practice',
  'shop-measured': 'measured in this shop',
  demo: 'invented demo value',
};

/** An id of the book as words: "start-button" → "start button". */
export const plain = (id: string): string => id.replaceAll('-', ' ').replaceAll('_', ' ');
export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
