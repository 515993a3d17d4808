import { z } from 'zod';
import { slug } from './basics.ts';
import { procedure } from './procedure.ts';
import { circuitInstrument } from './readings.ts';

export const circuitFault = z.strictObject({
  component: z.string().max(80),
  mode: z.string().max(40),
  value: z.union([z.number(), z.record(z.string(), z.union([z.number(), z.string().max(80)]))]).optional(),
});

const operation = {
  faults: z.array(circuitFault).max(50).optional(),
  controls: z.record(z.string(), z.string()).optional(),
  unplugged: z.array(z.string().max(80)).max(1000).optional(),
  removed: z.array(z.string().max(80)).max(1000).optional(),
  bridge: z.tuple([z.string().max(80), z.string().max(80)]).optional(),
};

export const circuitReadingView = z.strictObject({
  volts: z.number().nullable().optional(),
  ohms: z.number().nullable().optional(),
  amps: z.number().optional(),
  lamp: z.enum(['bright', 'dim', 'dark']).optional(),
  floating: z.boolean().optional(),
  open: z.boolean().optional(),
});

export const circuitSolution = z.strictObject({
  nodes: z.record(z.string(), z.number().nullable()).nullable(),
  chatter: z.boolean(),
  imbalance_a: z.number().nullable(),
  overloads: z.array(z.strictObject({ component: z.string(), amps: z.number(), rating_a: z.number() })),
  reading: circuitReadingView.nullable().optional(),
});

export const circuitProcedures = {
  'circuits.list': procedure({
    kind: 'read',
    does: 'Lists the circuits of the book.',
    input: z.strictObject({ modelId: slug.optional() }),
    output: z.strictObject({
      circuits: z.array(
        z.strictObject({
          circuitId: slug,
          title: z.string(),
          controls: z.record(
            z.string(),
            z.strictObject({ positions: z.array(z.string()), rest: z.string() }),
          ),
          plugs: z.record(z.string(), z.string()),
          points: z.record(z.string(), z.string()),
          faults: z.array(z.strictObject({ component: z.string(), modes: z.array(z.string()) })),
        }),
      ),
    }),
  }),
  'circuits.solve': procedure({
    kind: 'read',
    does: 'Computes what every node and an instrument would read, with faults, controls and parted plugs.',
    input: z.strictObject({
      /** An id of the book, or a whole circuit in the form of a circuit file. */
      circuit: z.union([z.string().max(80), z.record(z.string(), z.unknown())]),
      ...operation,
      instrument: circuitInstrument.optional(),
    }),
    output: circuitSolution,
  }),
} as const;
