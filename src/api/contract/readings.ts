import { z } from 'zod';
import { slug } from './basics.ts';
import { procedure } from './procedure.ts';

/** Conditions of a reading, each with its unit in the name. */
export const conditions = z.strictObject({
  temperature_c: z.number().min(-60).max(300).optional(),
  rest_hours: z.number().min(0).max(10_000).optional(),
  charge_percent: z.number().min(0).max(100).optional(),
  engine_rpm: z.number().min(0).max(20_000).optional(),
  current_a: z.number().min(-1000).max(1000).optional(),
  cca_a: z.number().min(0).max(2000).optional(),
  capacity_ah: z.number().min(0).max(500).optional(),
  length_m: z.number().min(0).max(100).optional(),
  area_mm2: z.number().min(0).max(200).optional(),
  awg: z.int().min(0).max(40).optional(),
  rating_a: z.number().min(0).max(200).optional(),
  rated_v: z.number().min(0).max(60).optional(),
  rated_w: z.number().min(0).max(500).optional(),
  lead_ohm: z.number().min(0).max(10).optional(),
  instrument: z.string().max(40).optional(),
  battery: z.enum(['flooded', 'agm', 'gel', 'lithium']).optional(),
  stator: z.enum(['half-wave', 'three-phase']).optional(),
});

const outcomeReading = z.strictObject({ checkId: slug, outcome: slug });
const valueReading = z.strictObject({
  checkId: slug,
  /** A number in the check's unit, or text as typed ("12,6 V", "12600 mV"). */
  value: z.union([z.number(), z.string().max(40)]),
  unit: z.string().max(16).optional(),
  conditions: conditions.optional(),
});
export const circuitInstrument = z.union([
  z.strictObject({
    kind: z.enum(['test-lamp', 'voltmeter', 'ohmmeter']),
    lead: z.string().max(80),
    tip: z.string().max(80),
    mode: z.enum(['dc', 'ac']).optional(),
  }),
  z.strictObject({ kind: z.literal('ammeter'), around: z.string().max(80) }),
]);
const circuitReading = z.strictObject({
  circuitId: slug,
  instrument: circuitInstrument,
  controls: z.record(z.string(), z.string()).optional(),
  unplugged: z.array(z.string().max(80)).max(50).optional(),
  removed: z.array(z.string().max(80)).max(50).optional(),
  value: z.union([z.number(), z.string().max(40)]).optional(),
  lamp: z.enum(['bright', 'dim', 'dark']).optional(),
});

/** What a check showed: an outcome, a number with its unit, or a probe in a circuit. */
export const reading = z.union([outcomeReading, valueReading, circuitReading]);
export const readingsList = z.array(reading).max(200);
export type Reading = z.infer<typeof reading>;
export type Conditions = z.infer<typeof conditions>;

export const readingProcedures = {
  'readings.judge': procedure({
    kind: 'read',
    does: 'Judges a measured value against what a healthy component shows at the conditions.',
    input: z.strictObject({
      specId: slug.optional(),
      quantity: z.string().max(60).optional(),
      value: z.union([z.number(), z.string().max(40)]),
      unit: z.string().max(16).optional(),
      conditions: conditions.optional(),
    }),
    output: z.strictObject({
      verdict: z.enum(['good', 'low', 'high', 'bad', 'cannot-say']),
      value: z.number(),
      unit: z.string(),
      corrected: z.number().optional(),
      low: z.number().nullable(),
      high: z.number().nullable(),
      basis: z.string(),
      why: z.string(),
    }),
  }),
} as const;
