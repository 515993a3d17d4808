import { z } from 'zod';
import { Problem, quoted } from '../../problem.ts';
import type { Circuit } from '../circuit-form.ts';

/**
 * How a circuit file places its drawing, in grid steps. `paths` are chains of components that hang together, drawn in
 * one line as in a current-path diagram: each begins where its first node already is, or at `y` (at `x` for a path that
 * runs across). `rails` are nodes drawn as a line across at that height. `boxes` are components with more than two
 * connections. A relay is placed as `id.coil` and `id.contact`.
 */
const spot = z.number().min(-20).max(500);
const side = z.enum(['top', 'bottom', 'left', 'right']);

const path = z.strictObject({
  x: spot.optional(),
  y: spot.optional(),
  /** The node it begins at; without it the end of the first part that the second does not touch. */
  from: z.string().optional(),
  run: z.enum(['down', 'up', 'right', 'left']).optional(),
  parts: z.array(z.string()).min(1),
  /** Side on which the names stand, seen on the page. */
  names: z.enum(['left', 'right', 'above', 'below']).optional(),
  /** Length of single parts in grid steps, where the standard does not suit. */
  lengths: z.record(z.string(), z.number().min(1).max(60)).optional(),
});

const box = z.strictObject({
  at: z.tuple([spot, spot]),
  size: z.tuple([z.number().min(2).max(60), z.number().min(2).max(60)]),
  /** Per node: the side, and how far along it (from the left or the top). */
  pins: z.record(z.string(), z.tuple([side, z.number().min(0).max(60)])),
});

export const layoutForm = z.strictObject({
  size: z.tuple([z.number().min(4).max(500), z.number().min(4).max(500)]).optional(),
  rails: z.record(z.string(), spot).optional(),
  boxes: z.record(z.string(), box).optional(),
  paths: z.array(path).min(1),
  /** Where the name of a component stands instead: its left end, its height. */
  names: z.record(z.string(), z.tuple([spot, spot, z.enum(['start', 'middle', 'end'])])).optional(),
});

export type Layout = z.output<typeof layoutForm>;
export type LayoutPath = z.output<typeof path>;
export type LayoutBox = z.output<typeof box>;

/** The layout a circuit file carries, or null. Problem `bad-circuit` where it has one that cannot be read. */
export function readLayout(circuit: Circuit): Layout | null {
  if (circuit.layout === undefined || circuit.layout === null) return null;
  const parsed = layoutForm.safeParse(circuit.layout);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  throw new Problem(
    'bad-circuit',
    `The layout of circuit ${quoted(circuit.id)} is not readable: ${issue?.message ?? 'not valid'}.`,
    { field: ['layout', ...(issue?.path ?? []).map(String)].join('.'), id: circuit.id },
  );
}
