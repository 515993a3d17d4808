import { attributeWords, units } from './attributes.ts';
import type { Attributes } from './part.ts';

/** One thing that a part of a kind can state: a number in the unit of its name, or a word. */
export interface KindAttribute {
  readonly name: string;
  /** In words, without the unit. */
  readonly title: string;
  /** Empty for a word. */
  readonly unit: string;
  readonly isNumber: boolean;
  /** Bounds of a number that can be meant; null for a word. */
  readonly low: number | null;
  readonly high: number | null;
}

/** Bounds that only a slip of the pen exceeds, by unit; common practice of the trade, no source. */
const bounds: Readonly<Record<string, readonly [number, number]>> = {
  a: [0.01, 2000],
  ah: [0.1, 200],
  v: [0.1, 1000],
  w: [0.1, 5000],
  ohm: [0.0001, 1_000_000],
  mm: [0.01, 5000],
  g: [0.01, 500_000],
  l: [0.001, 500],
  teeth: [1, 500],
  inch: [0.1, 100],
  deg_c: [-60, 400],
};

/** Narrower where the kind of part says more; the same footing. */
const narrower: Readonly<Record<string, readonly [number, number]>> = {
  'fuse.rating_a': [0.5, 200],
  'battery.voltage_v': [6, 24],
  'battery.capacity_ah': [1, 60],
  'drive-belt.length_mm': [300, 2000],
  'drive-belt.width_mm': [8, 60],
  'variator-roller-set.mass_g': [1, 60],
  'spark-plug.reach_mm': [5, 40],
  'starter-relay.coil_ohm': [0.5, 200],
};

const lamp = ['category', 'cap', 'voltage_v', 'power_w'];

/** What decides whether one part can stand in for another, by kind. Kinds that are not listed may state anything. */
const listed: Readonly<Record<string, readonly string[]>> = {
  fuse: ['form', 'rating_a', 'voltage_v'],
  battery: [
    'voltage_v',
    'capacity_ah',
    'cold_crank_a',
    'chemistry',
    'length_mm',
    'width_mm',
    'height_mm',
    'polarity',
    'terminals',
  ],
  'starter-relay': ['voltage_v', 'coil_ohm', 'contact_a', 'connector', 'mounting'],
  'main-relay': ['voltage_v', 'coil_ohm', 'contact_a', 'connector', 'mounting'],
  'side-stand-relay': ['voltage_v', 'coil_ohm', 'contact_a', 'connector', 'mounting'],
  'accessory-relay': ['voltage_v', 'coil_ohm', 'contact_a', 'connector', 'mounting'],
  'drive-belt': ['length_mm', 'width_mm'],
  'variator-roller-set': ['diameter_mm', 'width_mm', 'mass_g', 'pieces'],
  'spark-plug': ['thread', 'reach_mm', 'heat_range', 'resistor'],
  'brake-pad-set': ['shape', 'thickness_mm'],
  'brake-shoe-set': ['diameter_mm', 'width_mm'],
  'ignition-coil': ['primary_ohm', 'secondary_ohm', 'connector'],
  regulator: ['voltage_v', 'phases', 'connector'],
  stator: ['phases', 'coils', 'connector'],
  'front-tire': ['size'],
  'rear-tire': ['size'],
  'headlamp-bulb': lamp,
  'lamp-bulb-21-5': lamp,
  'lamp-bulb-21': lamp,
  'lamp-bulb-10': lamp,
  'lamp-bulb-5': lamp,
  bulb: lamp,
  'instrument-bulb': lamp,
};

/** Counts: whole numbers without a unit. */
const counts = new Set(['pieces', 'phases', 'coils']);

function describe(kind: string, name: string): KindAttribute {
  const { title, unit } = attributeWords(name);
  const suffix = Object.keys(units).find((one) => name.endsWith(`_${one}`) && units[one] === unit);
  const isNumber = unit !== '' || counts.has(name);
  const range = isNumber
    ? (narrower[`${kind}.${name}`] ?? (counts.has(name) ? [1, 100] : bounds[suffix as string]))
    : undefined;
  return { name, title, unit, isNumber, low: range?.[0] ?? null, high: range?.[1] ?? null };
}

/** What a part of a kind states; empty for a kind that may state anything. */
export const attributesOfKind = (kind: string): KindAttribute[] =>
  (listed[kind] ?? []).map((name) => describe(kind, name));

/**
 * The first thing that is wrong with what a part states, named by attribute; null where all is in order.
 * @param kind part kind: it decides which names there are and how large a number can be
 */
export function attributeFault(kind: string, attributes: Attributes): { name: string; why: string } | null {
  const names = listed[kind];
  for (const [name, value] of Object.entries(attributes)) {
    const no = (why: string) => ({ name, why });
    if (names && !names.includes(name))
      return no(`a ${kind.replaceAll('-', ' ')} states ${names.join(', ')}`);
    if (!/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/.test(name))
      return no('a name has small letters and digits, with _ between words, such as length_mm');
    const { isNumber, unit, low, high } = describe(kind, name);
    if (!isNumber) {
      if (typeof value === 'string' && value.trim() === '') return no('write a word or leave it out');
      continue;
    }
    const measure = unit === '' ? 'a whole number' : `a number of ${unit}`;
    if (typeof value !== 'number' || !Number.isFinite(value))
      return no(`${measure} was expected, “${value}” was given`);
    if (counts.has(name) && !Number.isInteger(value))
      return no(`${measure} was expected, ${value} was given`);
    if ((low !== null && value < low) || (high !== null && value > high))
      return no(`${measure} from ${low} to ${high} was expected, ${value} was given`);
  }
  return null;
}
