import { z } from 'zod';
import { ohm, positions } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Flasher extends TwoEnded {
  readonly resistance_ohm: number;
  /** Below this load it does not flash; below normal_from_a it flashes fast. */
  readonly flashes_from_a?: number;
  readonly normal_from_a?: number;
  /** To look at the dark half: a control whose positions are the two states. Without one it stands lit. */
  readonly control?: string;
  readonly closed_at?: readonly string[];
}

/** A block with two declared states: lit (closed, the standard) and dark (open). */
export const flasher = defineKind<Flasher>({
  kind: 'flasher',
  form: twoEnded(['input', 'output'], {
    resistance_ohm: ohm,
    flashes_from_a: z.number().min(0).optional(),
    normal_from_a: z.number().min(0).optional(),
    control: z.string().optional(),
    closed_at: positions.optional(),
  }) as never,
  faultModes: {
    'stuck-open': plainMode('body', 'stays dark'),
    'stuck-closed': plainMode('body', 'stays lit'),
    resistive: ohmMode('body', 'resistive', 5),
  },
  terminals: (c) => twoTerminals(c, ['49', '49a']),
  follows: (c) =>
    c.control === undefined ? [] : [{ control: c.control, positions: c.closed_at ?? [], field: 'closed_at' }],
  terms: (c, { fault, position }) => {
    const own = fault('body');
    const isLit =
      own?.mode === 'stuck-closed' ||
      c.control === undefined ||
      (c.closed_at ?? []).includes(position(c.control));
    const closed = typeof own?.value === 'number' ? own.value : c.resistance_ohm;
    return {
      branches: [
        {
          path: 'body',
          from: c.ends[0],
          to: c.ends[1],
          ohm: own?.mode === 'stuck-open' || !isLit ? null : closed,
        },
      ],
    };
  },
  sign: (c, seen, { fault }) => {
    const mode = fault('body')?.mode;
    const amps = seen.way('body').rms_a;
    // Rounding leaves a trace of current where nothing is switched on.
    if (mode === 'stuck-open' || amps < 1e-6) return { sign: 'flasher', word: 'stays-dark', fraction: 0 };
    if (mode === 'stuck-closed' || amps < (c.flashes_from_a ?? 0)) {
      return { sign: 'flasher', word: 'stays-lit', fraction: 0 };
    }
    const isFast = amps < (c.normal_from_a ?? 0);
    return { sign: 'flasher', word: isFast ? 'flashes-fast' : 'flashes', fraction: 1 };
  },
});
