/**
 * The form of a circuit: components between named nodes, what a person operates, connectors that can be
 * parted, and points where a probe can go. Every component kind adds its own fields (see kinds/).
 */
import { z } from 'zod';

/** Least and greatest resistance that is accepted, in ohms. Outside this range a value is a typing mistake. */
export const LEAST_OHM = 1e-9;
export const MOST_OHM = 1e12;
/** Greatest size of voltage that is accepted, in volts. */
export const MOST_VOLTS = 1e5;
/** Largest circuit that is solved. */
export const MOST_COMPONENTS = 2000;

export const nodeName = z
  .string({ error: 'must be the name of a node' })
  .min(1, { error: 'must be the name of a node, not empty' });

export const ohm = z
  .number({ error: 'must be a number of ohms' })
  .refine((value) => value > 0, { error: 'must be a resistance above 0 Ω' })
  .refine((value) => value <= 0 || (value >= LEAST_OHM && value <= MOST_OHM), {
    error: `must lie between ${LEAST_OHM} and ${MOST_OHM} Ω`,
  });

export const volt = z
  .number({ error: 'must be a number of volts' })
  .refine((value) => Math.abs(value) <= MOST_VOLTS, { error: `must be at most ${MOST_VOLTS} V` });

export const positiveVolt = volt.refine((value) => value > 0, { error: 'must be above 0 V' });
export const notNegativeVolt = volt.refine((value) => value >= 0, { error: 'must not be below 0 V' });

export const ampere = z
  .number({ error: 'must be a number of amperes' })
  .refine((value) => value > 0 && value <= 1e6, { error: 'must be above 0 A' });

export const watt = z
  .number({ error: 'must be a number of watts' })
  .refine((value) => value > 0 && value <= 1e6, { error: 'must be above 0 W' });

export const twoNodes = z.tuple([nodeName, nodeName], { error: 'must name two nodes' });

/** Positions of a control at which something holds. */
export const positions = z.array(z.string({ error: 'must be the name of a position' }), {
  error: 'must be a list of positions',
});

/** Fields every component may carry, whatever its kind. */
export const componentBase = {
  id: z.string({ error: 'must be an id' }).min(1, { error: 'must be an id, not empty' }),
  kind: z.string({ error: 'must be a kind' }),
  title: z.string().optional(),
  /** Terminal numbers by terminal name, e.g. { coil-1: "86" } (DIN 72552). */
  terminal: z.union([z.string(), z.record(z.string(), z.union([z.string(), z.number()]))]).optional(),
  /** Letter code of IEC 60757, e.g. GN or RDBK. */
  color: z.string().optional(),
  /** Half width of the component's spread as a fraction of its resistance, 0 to 1. */
  tolerance: z.number().min(0).max(1).optional(),
  /** What the rider takes it for: horn, starter, fan, fuel-pump, headlamp … */
  role: z.string().optional(),
  layout: z.unknown().optional(),
};

export interface Component {
  readonly id: string;
  readonly kind: string;
  readonly title?: string;
  readonly terminal?: string | Readonly<Record<string, string | number>>;
  readonly color?: string;
  readonly tolerance?: number;
  readonly role?: string;
  readonly layout?: unknown;
  readonly [field: string]: unknown;
}

export interface Control {
  readonly title?: string;
  readonly positions: readonly string[];
  readonly rest: string;
  readonly [field: string]: unknown;
}

export interface Plug {
  /** Its name where the circuit gives no title. */
  readonly title: string;
  readonly parts: readonly string[];
  readonly [field: string]: unknown;
}

export interface Point {
  readonly node: string;
  /** Its name where the circuit gives no title. */
  readonly title: string;
  readonly where?: string;
  /** Control unit, sensor, 5 V, data or immobilizer line: filament lamps and bridges are refused here. */
  readonly electronic?: boolean;
  readonly [field: string]: unknown;
}

export interface Circuit {
  readonly id: string;
  readonly title: string;
  /** The reference node: 0 V by definition. */
  readonly ground: string;
  readonly controls: Readonly<Record<string, Control>>;
  readonly plugs: Readonly<Record<string, Plug>>;
  readonly components: readonly Component[];
  readonly points: Readonly<Record<string, Point>>;
  /** Marks on nodes that carry no named point. */
  readonly nodes: Readonly<
    Record<string, { readonly electronic?: boolean; readonly [field: string]: unknown }>
  >;
  readonly layout?: unknown;
  readonly [field: string]: unknown;
}

const control = z.looseObject({
  title: z.string().optional(),
  positions: z
    .array(z.string({ error: 'must be the name of a position (quote on, off, yes and no in older YAML)' }))
    .min(1, { error: 'must list at least one position' }),
  rest: z.string({ error: 'must name the position at rest' }),
});

const plug = z.looseObject({
  title: z.string().optional(),
  parts: z.array(z.string({ error: 'must be a component id' }), { error: 'must list component ids' }),
});

const point = z.looseObject({
  node: nodeName,
  title: z.string().optional(),
  where: z.string().optional(),
  electronic: z.boolean({ error: 'must be true or false' }).optional(),
});

/** An absent or empty section reads as empty: YAML gives null for a key without content. */
const section = <T extends z.ZodType>(entry: T) =>
  z
    .record(z.string(), entry, { error: 'must be a list of named entries' })
    .nullish()
    .transform((value) => value ?? {});

/** Everything but what the kinds add. */
export const circuitFrame = z.looseObject(
  {
    id: z.string().min(1).optional(),
    title: z.string().optional(),
    ground: nodeName,
    controls: section(control),
    plugs: section(plug),
    components: z
      .array(z.looseObject({ id: componentBase.id, kind: componentBase.kind }), {
        error: 'must be a list of components',
      })
      .min(1, { error: 'must list at least one component' }),
    points: section(point),
    nodes: section(z.looseObject({ electronic: z.boolean().optional() })),
    layout: z.unknown().optional(),
  },
  { error: 'must be an object with ground and components' },
);
