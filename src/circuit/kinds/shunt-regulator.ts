import { z } from 'zod';
import { ohm, positiveVolt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';
import { valve } from './valve.ts';

interface ShuntRegulator extends TwoEnded {
  readonly limit_v: number;
  readonly on_ohm: number;
  /** Limits both half waves (alternating-current lighting). */
  readonly both_ways?: boolean;
}

/** Takes what exceeds limit_v from its first end to its second, through on_ohm. */
export const shuntRegulator = defineKind<ShuntRegulator>({
  kind: 'shunt-regulator',
  form: twoEnded(['line', 'return'], {
    limit_v: positiveVolt,
    on_ohm: ohm,
    both_ways: z.boolean().optional(),
  }) as never,
  faultModes: {
    open: plainMode('body', 'open: does not limit'),
    shorted: ohmMode('body', 'shorted', 0.01),
  },
  terminals: (c) => twoTerminals(c, ['line', 'return']),
  terms: (c, { fault }) => {
    const own = fault('body');
    const branches = [valve('body', c.ends[0], c.ends[1], c.limit_v, c.on_ohm, own)];
    if (c.both_ways) {
      const gone = own && { mode: own.mode, value: undefined };
      branches.push(valve('other-way', c.ends[1], c.ends[0], c.limit_v, c.on_ohm, gone));
    }
    return { branches };
  },
});
