import { z } from 'zod';
import {
  basisKinds,
  causeKinds,
  checkKinds,
  hazards,
  instruments,
  lacks,
  signalWords,
  systems,
  type Trait,
  traits,
} from '../book/index.ts';
import type { EntryKind } from './entry.ts';
import { firstUnreadable } from './unreadable.ts';

/** Units a handbook value may have; one spelling each, so that two values can be compared. */
export const units = [
  ...['V', 'mV', 'A', 'mA', 'W', 'Ah', 'mAh', 'ohm', 'kohm', 'Mohm', 'µF', 'Hz', 'kHz'],
  ...['s', 'ms', 'min', 'h', 'd', '1/min', 'km', 'm', 'cm', 'mm', 'km/h', '°', '°C', '%'],
  ...[
    'kPa',
    'bar',
    'kPa/min',
    'bar/min',
    'N',
    'N·m',
    'g',
    'kg',
    'g/cm³',
    'L',
    'mL',
    'cm³',
    'L/h',
    'mL/min',
    'L/100 km',
    'mL/1000 km',
  ],
  ...['count', 'turns', 'teeth', 'lm', 'lx', 'dB', 'flashes/min'],
] as const;

const id = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/)
  .max(80);
/** Text that a file can hold and a person can read. */
const readable = (value: string): boolean => firstUnreadable(value) === undefined;
const words = (longest: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(longest)
    .refine(readable, 'expected text without control or unreadable characters');
const title = words(120);
const text = words(2000);
const ids = z.array(id);
const chance = z.number().min(0).max(1);
const systemName = z.enum(systems);

const basis = z.union(
  [z.enum(basisKinds).exclude(['published']), z.strictObject({ kind: z.literal('published'), source: text })],
  {
    error: 'expected common-practice, shop-measured, demo, or {kind: published, source: "title, section"}',
  },
);

type TraitLists = { [T in Trait]: z.ZodOptional<z.ZodArray<z.ZodEnum>> };
type TraitSingles = { [T in Trait]: z.ZodOptional<z.ZodEnum> };
const traitEntries = Object.entries(traits) as [Trait, readonly [string, ...string[]]][];
const existsOn = z.strictObject(
  Object.fromEntries(
    traitEntries.map(([trait, values]) => [trait, z.array(z.enum(values)).min(1).optional()]),
  ) as unknown as TraitLists,
);
const machineTraits = z.strictObject(
  Object.fromEntries(
    traitEntries.map(([trait, values]) => [trait, z.enum(values).optional()]),
  ) as unknown as TraitSingles,
);

const symptom = z.strictObject({
  id,
  system: systemName.optional(),
  title,
  meaning: text,
  related: ids.optional(),
  lacks: z.array(z.enum(lacks)).min(1).optional(),
  unlisted_of_100: z.number().min(0.1).max(100),
  priors: z.array(z.strictObject({ cause: id, of_100: z.number().gt(0).max(100), because: text })).max(60),
});

const faultValue = z.union([z.number(), z.record(text, z.union([z.number(), text]))], {
  error: 'expected a number, {emf_v, resistance_ohm} or {node, ohm}',
});
const wiringState = z.union(
  [
    z.strictObject({
      faults: z.array(z.strictObject({ component: text, mode: text, value: faultValue.optional() })).min(1),
    }),
    z.strictObject({ state: z.literal('healthy') }),
  ],
  { error: 'expected {faults: [{component, mode, value?}]} or {state: healthy}' },
);

const partNeed = z.union([id, z.strictObject({ kind: id, quantity: z.int().min(1).max(50) })], {
  error: 'expected the id of a part kind, or {kind: id, quantity: 1 to 50}',
});

const cause = z.strictObject({
  id,
  system: systemName.optional(),
  title,
  kind: z.enum(causeKinds).optional(),
  component: id,
  fault_mode: title,
  on: existsOn.optional(),
  shows: text,
  shows_with: z.number().gt(0).max(1).optional(),
  repair: z.strictObject({
    title,
    steps: z.array(text).min(1).max(30),
    minutes: z.number().min(1).max(1200),
    parts: z.array(partNeed).max(30),
    proof: text,
  }),
  cautions: ids.optional(),
  wiring: z.record(id, wiringState).optional(),
  basis,
});

const limit = z.number().nullable();
const outcome = z.strictObject({
  id,
  title,
  means: text,
  healthy: chance,
  range: z.tuple([limit, limit]).optional(),
});

const meterProbe = z.strictObject({
  kind: z.enum(['test-lamp', 'voltmeter', 'ohmmeter']),
  lead: text,
  tip: text,
  mode: z.enum(['dc', 'ac']).optional(),
});
const probe = z.strictObject({
  circuit: id,
  instrument: z.union([meterProbe, z.strictObject({ kind: z.literal('ammeter'), around: text })], {
    error:
      'expected {kind: test-lamp | voltmeter | ohmmeter, lead, tip, mode?: dc | ac} or {kind: ammeter, around}',
  }),
  controls: z.record(text, text).optional(),
  unplugged: z.array(text).optional(),
  removed: z.array(text).optional(),
});

const check = z.strictObject({
  id,
  system: systemName.optional(),
  title,
  kind: z.enum(checkKinds),
  instrument: z.enum(instruments).optional(),
  phone: z.boolean().optional(),
  on: existsOn.optional(),
  symptoms: ids.min(1).optional(),
  place: text.optional(),
  access: ids.optional(),
  controls: z.record(text, text).optional(),
  needs: ids.optional(),
  minutes: z.number().gt(0).max(600),
  wait_minutes: z.number().min(0).max(20_160).optional(),
  steps: z.array(text).min(1).max(30),
  healthy: text,
  spec: id.nullable().optional(),
  quantity: z
    .strictObject({ name: title, unit: z.enum(units), possible: z.tuple([z.number(), z.number()]) })
    .nullable()
    .optional(),
  cautions: ids.optional(),
  outcomes: z.array(outcome).min(2).max(6),
  when: z.record(id, z.record(id, chance)).optional(),
  probes: z.array(probe).optional(),
  basis,
});

const spec = z.strictObject({
  id,
  title,
  component: id,
  quantity: title,
  unit: z.enum(units),
  low: limit.optional(),
  high: limit.optional(),
  conditions: text,
  on: existsOn.optional(),
  models: ids.optional(),
  basis,
});

const year = z.int().min(1950).max(2100);
/** A finding of the lint that stays, and why; `about` narrows it to one group of causes. */
const explained = z.strictObject({ code: id, id, about: ids.optional(), because: text });

/** The form of every kind of entry, as it stands in the YAML. */
export const shapes = {
  handbook: z.strictObject({
    id,
    title,
    version: words(40),
    explained: z.array(explained).optional(),
  }),
  symptom,
  cause,
  check,
  spec,
  caution: z.strictObject({
    id,
    signal: z.enum(signalWords),
    hazard: text,
    avoid: text,
    do_not_ride: z.boolean().optional(),
  }),
  precondition: z.strictObject({
    id,
    title,
    because: text,
    check: id,
    met_by: ids.min(1),
    otherwise: text,
    elapsed_minutes: z.number().min(0).max(20_160),
  }),
  component: z.strictObject({
    id,
    title,
    system: systemName.optional(),
    hazards: z.array(z.enum(hazards)).optional(),
  }),
  'part-kind': z.strictObject({
    id,
    title,
    typical_price: z.string().regex(/^\d{1,6}(\.\d{1,4})?$/),
    basis,
  }),
  family: z.strictObject({ id, title, displacement_cm3: z.int().min(25).max(1000), traits: machineTraits }),
  model: z.strictObject({
    id,
    maker: title,
    name: title,
    family: id,
    years: z.tuple([year, year]),
    traits: machineTraits.optional(),
    circuits: ids.optional(),
    aliases: z.array(title).optional(),
    basis,
  }),
  question: z.strictObject({
    id,
    ask: text,
    answers: z
      .array(z.strictObject({ say: text, symptom: id }))
      .min(2)
      .max(8),
  }),
  phrases: z.strictObject({ symptom: id.optional(), phrases: z.array(words(1000)) }),
  /** Only the id is looked at here; the circuit room reads the rest. */
  circuit: z.looseObject({ id }),
} as const satisfies Record<EntryKind, z.ZodType>;

export type Shape<K extends EntryKind> = z.infer<(typeof shapes)[K]>;
export type BasisForm = z.infer<typeof basis>;
