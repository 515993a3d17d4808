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

const spot = z.tuple([z.number(), z.number()]);
const anchor = z.enum(['start', 'middle', 'end']);
const label = z.strictObject({ x: z.number(), y: z.number(), anchor, lines: z.array(z.string()) });

/** Where everything of a circuit stands on the page, in drawing units; independent of its state. */
export const circuitDrawing = z.strictObject({
  circuitId: slug,
  title: z.string(),
  width: z.number(),
  height: z.number(),
  symbols: z.array(
    z.strictObject({
      /** Component id; with the way behind a dot for coil and contact of a relay. */
      id: z.string(),
      component: z.string(),
      symbol: z.enum([
        'battery',
        'fuse',
        'switch',
        'thermo-switch',
        'lamp',
        'relay-coil',
        'relay-contact',
        'motor',
        'resistor',
        'variable-resistor',
        'reactance',
        'sensor',
        'horn',
        'diode',
        'zener',
        'generator',
        'limiter',
        'flasher',
        'box',
      ]),
      title: z.string(),
      x: z.number(),
      y: z.number(),
      turn: z.union([z.literal(0), z.literal(90), z.literal(180), z.literal(270)]),
      length: z.number(),
      width: z.number().optional(),
      pins: z
        .array(
          z.strictObject({
            node: z.string(),
            x: z.number(),
            y: z.number(),
            side: z.enum(['top', 'bottom', 'left', 'right']),
            label: z.string(),
          }),
        )
        .optional(),
      label,
      terminals: z.array(z.strictObject({ x: z.number(), y: z.number(), anchor, text: z.string() })),
      nodes: z.array(z.string()),
    }),
  ),
  wires: z.array(
    z.strictObject({
      component: z.string(),
      title: z.string(),
      /** Color letters of IEC 60757. */
      color: z.string().optional(),
      nodes: z.tuple([z.string(), z.string()]),
      path: z.array(spot),
      label,
    }),
  ),
  lines: z.array(z.strictObject({ node: z.string(), path: z.array(spot) })),
  dots: z.array(z.strictObject({ node: z.string(), x: z.number(), y: z.number() })),
  points: z.array(
    z.strictObject({
      id: z.string(),
      node: z.string(),
      title: z.string(),
      where: z.string().optional(),
      electronic: z.boolean(),
      x: z.number(),
      y: z.number(),
      label: z.strictObject({ x: z.number(), y: z.number(), anchor }),
    }),
  ),
  links: z.array(z.strictObject({ component: z.string(), path: z.array(spot) })),
  ground: z.array(z.strictObject({ node: z.string(), x: z.number(), y: z.number() })),
});

/** What the drawing shows under one set of controls and faults. */
export const circuitState = z.strictObject({
  chatter: z.boolean(),
  chattering: z.array(z.string()),
  /** Volts above ground (mean), root mean square of the alternating part, and how live that is. */
  nodes: z.record(
    z.string(),
    z.strictObject({
      volts: z.number().nullable(),
      volts_ac: z.number().optional(),
      level: z.enum(['full', 'part', 'none', 'floating', 'chatter']),
    }),
  ),
  /** By the id of a drawn symbol or wire. */
  parts: z.record(
    z.string(),
    z.strictObject({
      amps: z.number().nullable(),
      closed: z.boolean().optional(),
      /** What a click on the switch sets. */
      press: z.strictObject({ control: z.string(), position: z.string() }).optional(),
      stands: z.string().optional(),
      word: z.string().optional(),
      /** Share of rated power (lamp, horn) or nominal current (motor). */
      fraction: z.number().optional(),
      healthy: z.string().optional(),
      fault: z.string().optional(),
      broken: z.boolean().optional(),
      out: z.boolean().optional(),
    }),
  ),
  overloads: z.array(z.strictObject({ component: z.string(), amps: z.number(), rating_a: z.number() })),
  controls: z.record(z.string(), z.string()),
});

export const circuitDraw = z.strictObject({
  drawing: circuitDrawing,
  state: circuitState,
  /** Every control a person can set, in the order of the file. */
  controls: z.array(
    z.strictObject({ id: z.string(), title: z.string(), positions: z.array(z.string()), stands: z.string() }),
  ),
  plugs: z.array(z.strictObject({ id: z.string(), title: z.string(), parted: z.boolean() })),
  /** With a cause: whether its wiring is drawn, is that of a healthy machine, or is not in the book. */
  cause: z.enum(['faults', 'healthy', 'unknown']).optional(),
});

export type CircuitDrawing = z.infer<typeof circuitDrawing>;
export type CircuitState = z.infer<typeof circuitState>;
export type CircuitDraw = z.infer<typeof circuitDraw>;

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
          /** Causes of the book that are a fault of this wiring. */
          causes: z.array(slug),
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
  'circuits.draw': procedure({
    kind: 'read',
    does: 'Draws a circuit of the book, with what every part shows under the given controls, faults and parted plugs.',
    input: z.strictObject({
      circuitId: slug,
      controls: operation.controls,
      faults: operation.faults,
      /** Draws the machine with this cause of the book, as its wiring section says. */
      causeId: slug.optional(),
      unplugged: operation.unplugged,
      removed: operation.removed,
    }),
    output: circuitDraw,
  }),
} as const;
