import type { RecurringBy, RecurringGroup } from '../../api/contract.ts';
import { dayWords } from '../words/time.ts';

type Rate = RecurringGroup['rate'];
type Change = NonNullable<RecurringGroup['change']>;

const thin = '\u2009';

/** One decimal below ten, none above. */
export const short = (value: number): string => value.toFixed(value < 10 ? 1 : 0);

/** A rate with its limits; small numbers as the numbers they are. */
export function rateWords(rate: Rate, concerns: number, visits: number): string {
  if (visits === 0) return 'no visits';
  if (!rate) return `${concerns} of ${visits.toLocaleString('en-US')}`;
  return `${short(rate.per100)} (${short(rate.low)}–${short(rate.high)})`;
}

/** How a rate changed, in words that do not claim more than the numbers carry. */
export function changeWords(change: Change | null): string {
  if (!change) return '';
  if (change.falseShare > 0.05) return 'within chance';
  if (change.ratio === null) return 'new';
  if (change.ratio === 0) return 'gone';
  return change.ratio >= 1
    ? `up, ${short(change.ratio)}${thin}times`
    : `down to ${Math.round(change.ratio * 100)}${thin}%`;
}

export const byWords: Record<RecurringBy, string> = {
  cause: 'Cause',
  component: 'Component',
  system: 'System',
  symptom: 'Symptom',
  model: 'Model',
  family: 'Engine',
  'engine-type': 'Engine type',
  'model-year': 'Model year',
  age: 'Age of the vehicle',
  mileage: 'Mileage',
  technician: 'Technician, by name',
  'part-kind': 'Kind of part',
  supplier: 'Supplier of the part',
};

export const backWords = {
  'diagnosis-stands': 'did not hold',
  'diagnosis-taken-back': 'had another cause',
  'in-doubt': 'in doubt',
} as const;

const monthFormat = new Intl.DateTimeFormat('en-US', { month: 'short', year: 'numeric', timeZone: 'UTC' });

export const monthNames = Array.from({ length: 12 }, (_, month) =>
  new Intl.DateTimeFormat('en-US', { month: 'long', timeZone: 'UTC' }).format(Date.UTC(2000, month, 1)),
);

/** "2026-08" → "Aug 2026". */
export const monthText = (month: string): string => monthFormat.format(new Date(`${month}-01T00:00:00Z`));

/** The last day of a period that ends before this moment. */
export const lastDayWords = (until: string): string =>
  dayWords(new Date(Date.parse(until) - 1).toISOString());

/** A chance of finding so much by luck, without false precision. */
export function chanceWords(p: number): string {
  if (p < 0.0001) return 'less than 1 in 10,000';
  if (p < 0.01) return `about 1 in ${Math.round(1 / p).toLocaleString('en-US')}`;
  return `${Math.round(p * 100)}${thin}%`;
}
