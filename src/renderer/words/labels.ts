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

/** Who has to move next while a job stands in a status. */
export const waitsOn: Record<JobStatus, string> = {
  booked: 'the customer brings it',
  'checked-in': 'a technician starts',
  diagnosing: 'the technician',
  'awaiting-approval': 'the customer says yes',
  'waiting-for-parts': 'the parts arrive',
  'on-charge': 'the battery is full',
  'in-work': 'the technician',
  'final-check': 'the test ride',
  ready: 'the customer collects',
  collected: 'nobody',
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
