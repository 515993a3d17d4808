import { z } from 'zod';
import { type Component, componentBase, twoNodes } from '../circuit-form.ts';
import type { Terminal } from '../kind.ts';

export interface TwoEnded extends Component {
  readonly ends: readonly [string, string];
}

/**
 * The form of a component with two ends. `ends` may also be written by terminal name (positive and negative,
 * anode and cathode …); it is then derived from those, in that order.
 */
export function twoEnded<S extends z.ZodRawShape>(names: readonly [string, string], fields: S) {
  const form = z.looseObject({ ...componentBase, ends: twoNodes, ...fields });
  return z.preprocess((value) => {
    if (typeof value !== 'object' || value === null || 'ends' in value) return value;
    const record = value as Record<string, unknown>;
    const first = record[names[0]];
    const second = record[names[1]];
    return typeof first === 'string' && typeof second === 'string' && first !== '' && second !== ''
      ? { ...record, ends: [first, second] }
      : value;
  }, form);
}

export function twoTerminals(component: TwoEnded, names: readonly [string, string] = ['1', '2']): Terminal[] {
  return [
    { name: names[0], node: component.ends[0] },
    { name: names[1], node: component.ends[1] },
  ];
}
