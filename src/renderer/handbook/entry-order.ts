import { isRecord } from './read-body.ts';

/** The order a reader asks in; fields that are not named here follow in the order of the file. */
const order = [
  'meaning',
  'shows',
  'hazard',
  'avoid',
  'because',
  'place',
  'access',
  'controls',
  'needs',
  'steps',
  'healthy',
  'outcomes',
  'repair',
  'otherwise',
  'answers',
  'priors',
  'related',
  'lacks',
  'on',
  'symptoms',
  'when',
];

/** A value short enough to stand in the list of facts: one word, one number, yes or no, a few of them. */
export function isFact(value: unknown): boolean {
  if (typeof value === 'number' || typeof value === 'boolean') return true;
  if (typeof value === 'string') return value.length <= 40;
  return (
    Array.isArray(value) && value.length <= 4 && value.every((each) => isFact(each) && !Array.isArray(each))
  );
}

export function isNothing(value: unknown): boolean {
  if (value === null || value === undefined || value === '') return true;
  if (Array.isArray(value)) return value.length === 0;
  return isRecord(value) && Object.keys(value).length === 0;
}

const placeOf = (field: string): number => {
  const at = order.indexOf(field);
  return at < 0 ? order.length : at;
};

/** Fields in reading order, the short facts apart from what is read in full. */
export function arranged(body: Record<string, unknown>, leftOut: ReadonlySet<string>) {
  const fields = Object.entries(body)
    .filter(([field, value]) => !leftOut.has(field) && !isNothing(value))
    .sort(([a], [b]) => placeOf(a) - placeOf(b));
  return {
    facts: fields.filter(([field, value]) => isFact(value) && !order.includes(field)),
    texts: fields.filter(([field, value]) => !isFact(value) || order.includes(field)),
  };
}
