import { z } from 'zod';
import { ohm, positions, positiveVolt } from '../circuit-form.ts';
import { defineKind, type Situation } from '../kind.ts';
import { bodyOhm, fractionValue, ohmMode, plainMode, shortedTo } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

/** What every winding says of its voltage. */
export interface WindingVolts {
  readonly id: string;
  /** Root mean square without load. */
  readonly emf_rms_v: number;
  /** The control that runs the engine; without one it always runs. */
  readonly control?: string;
  /** Positions at which it makes emf_rms_v. */
  readonly running_at?: readonly string[];
  /** Or its volts position by position; a position that is not listed makes none. */
  readonly emf_at?: Readonly<Record<string, number>>;
}

interface Stator extends TwoEnded, WindingVolts {
  readonly resistance_ohm: number;
  readonly phase_deg?: number;
}

export const windingFields = {
  emf_rms_v: positiveVolt,
  control: z.string().optional(),
  running_at: positions.optional(),
  emf_at: z.record(z.string(), z.number().min(0)).optional(),
};

/** Peak volts of a winding as the engine runs, less what a weak rotor has lost. */
export function peakVolts(c: WindingVolts, { fault, position }: Situation): number {
  const weak = fault('emf')?.value;
  const share = typeof weak === 'number' ? weak : 1;
  if (c.control === undefined) return Math.SQRT2 * c.emf_rms_v * share;
  const at = position(c.control);
  const rms = c.emf_at ? (c.emf_at[at] ?? 0) : c.running_at?.includes(at) ? c.emf_rms_v : 0;
  return Math.SQRT2 * rms * share;
}

export function windingFollows(c: WindingVolts) {
  if (c.control === undefined) return [];
  return c.emf_at
    ? [{ control: c.control, positions: Object.keys(c.emf_at), field: 'emf_at' }]
    : [{ control: c.control, positions: c.running_at ?? [], field: 'running_at' }];
}

export const weakRotor = {
  slot: 'emf',
  title: 'weak: the rotor has lost magnetism; value is the share of volts left',
  value: { form: fractionValue, unit: 'fraction', standard: () => 0.5 },
} as const;

/** One winding: a sine behind a resistance, no inductance. */
export const stator = defineKind<Stator>({
  kind: 'stator',
  form: twoEnded(['line', 'return'], {
    ...windingFields,
    resistance_ohm: ohm,
    phase_deg: z.number().optional(),
  }) as never,
  faultModes: {
    open: plainMode('body', 'open'),
    shorted: ohmMode('body', 'shorted turns: no volts', 0.05),
    weak: weakRotor,
    'shorted-to': shortedTo,
  },
  terminals: (c) => twoTerminals(c),
  follows: windingFollows,
  terms: (c, situation) => {
    const fault = situation.fault('body');
    const peak_v = fault ? 0 : peakVolts(c, situation);
    const touch = situation.fault('short')?.value as { node: string; ohm: number } | undefined;
    return {
      branches: [
        {
          path: 'body',
          from: c.ends[0],
          to: c.ends[1],
          ohm: bodyOhm(fault, c.resistance_ohm),
          sine: { peak_v, phase_deg: c.phase_deg ?? 0 },
          isSource: peak_v > 0,
        },
      ],
      extra: touch ? [{ path: 'short', from: c.ends[0], to: touch.node, ohm: touch.ohm }] : [],
    };
  },
});
