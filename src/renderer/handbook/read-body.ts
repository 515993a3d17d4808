import type { CautionView } from '../../api/contract.ts';
import { plain, sentence } from '../words/labels.ts';

/** What a field of the book's form is called on a page. */
const titles: Record<string, string> = {
  meaning: 'What the rider notices',
  priors: 'Causes by the book, of 100',
  unlisted_of_100: 'Not in the book, of 100',
  lacks: 'Without',
  related: 'The same fault may also show as',
  on: 'Only on machines with',
  symptoms: 'Only for the complaints',
  shows: 'How it shows',
  shows_with: 'Shows itself with probability',
  repair: 'Repair',
  fault_mode: 'How it fails',
  healthy: 'Healthy',
  when: 'Chances of each answer under a cause',
  outcomes: 'Answers',
  controls: 'Controls',
  needs: 'Needs first',
  access: 'To get there',
  place: 'Where',
  minutes: 'Minutes',
  wait_minutes: 'Minutes of waiting',
  phone: 'Can be asked on the phone',
  hazard: 'What can hurt',
  avoid: 'What to do about it',
  do_not_ride: 'Do not ride',
  displacement_cm3: 'Displacement, cm³',
  of_100: 'of 100',
  met_by: 'Met by',
  elapsed_minutes: 'Minutes of waiting',
};

export const fieldTitle = (field: string): string => titles[field] ?? sentence(plain(field));
export const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');
export const textsOf = (value: unknown): string[] =>
  Array.isArray(value) ? value.filter((each): each is string => typeof each === 'string') : [];
export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
export const isSignal = (value: unknown): value is CautionView['signal'] =>
  value === 'DANGER' || value === 'WARNING' || value === 'CAUTION' || value === 'NOTICE';
