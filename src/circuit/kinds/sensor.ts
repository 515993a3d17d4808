import { z } from 'zod';
import { ohm } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { bodyOhm, ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Sensor extends TwoEnded {
  readonly resistance_ohm?: number;
  readonly control?: string;
  /** Ohms position by position (cold, hot; empty, full). */
  readonly ohm_at?: Readonly<Record<string, number>>;
}

/** A resistance that follows a condition: temperature sensor, fuel gauge sender, variable resistor. */
export function followingResistance(kind: string) {
  return defineKind<Sensor>({
    kind,
    form: twoEnded(['1', '2'], {
      resistance_ohm: ohm.optional(),
      control: z.string().optional(),
      ohm_at: z.record(z.string(), ohm).optional(),
    }).refine(
      (c) => {
        const { resistance_ohm, control, ohm_at } = c as Sensor;
        return resistance_ohm !== undefined || (control !== undefined && ohm_at !== undefined);
      },
      { error: 'must be given, or control and ohm_at instead', path: ['resistance_ohm'] },
    ) as never,
    faultModes: {
      open: plainMode('body', 'open'),
      shorted: ohmMode('body', 'shorted', 0.01),
      resistive: ohmMode('body', 'resistive: off its curve', (c) => 3 * (healthyOhm(c) ?? Number.NaN)),
    },
    terminals: (c) => twoTerminals(c),
    follows: (c) =>
      c.control === undefined
        ? []
        : [{ control: c.control, positions: Object.keys(c.ohm_at ?? {}), field: 'ohm_at' }],
    terms: (c, { fault, position }) => {
      const healthy = healthyOhm(c, c.control === undefined ? undefined : position(c.control));
      const own = fault('body');
      const ohm = own ? bodyOhm(own, Number.NaN) : healthy;
      return { branches: [{ path: 'body', from: c.ends[0], to: c.ends[1], ohm }] };
    },
  });
}

/** At a position that ohm_at does not list: resistance_ohm, and without it the part is open. */
function healthyOhm(c: Sensor, at?: string): number | null {
  if (at !== undefined && c.ohm_at && Object.hasOwn(c.ohm_at, at)) return c.ohm_at[at] ?? null;
  return c.resistance_ohm ?? (at === undefined ? (Object.values(c.ohm_at ?? {})[0] ?? null) : null);
}

export const sensor = followingResistance('sensor');
