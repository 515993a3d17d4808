import { notNegativeVolt, ohm, positiveVolt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';
import { valve } from './valve.ts';

interface Zener extends TwoEnded {
  readonly zener_v: number;
  readonly drop_v: number;
  readonly on_ohm: number;
}

/** First end anode: drop_v forward, zener_v backward, both behind on_ohm. */
export const zener = defineKind<Zener>({
  kind: 'zener',
  form: twoEnded(['anode', 'cathode'], {
    zener_v: positiveVolt,
    drop_v: notNegativeVolt,
    on_ohm: ohm,
  }) as never,
  faultModes: { open: plainMode('body', 'open'), shorted: ohmMode('body', 'shorted', 0.01) },
  terminals: (c) => twoTerminals(c, ['anode', 'cathode']),
  terms: (c, { fault }) => {
    const own = fault('body');
    return {
      branches: [
        valve('forward', c.ends[0], c.ends[1], c.drop_v, c.on_ohm, own),
        // A short is one resistance, not two side by side.
        valve(
          'backward',
          c.ends[1],
          c.ends[0],
          c.zener_v,
          c.on_ohm,
          own && { mode: own.mode, value: undefined },
        ),
      ],
    };
  },
});
