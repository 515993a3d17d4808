import { notNegativeVolt, ohm } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';
import { valve } from './valve.ts';

interface Diode extends TwoEnded {
  readonly drop_v: number;
  readonly on_ohm: number;
}

/** First end anode, second end cathode. */
export const diode = defineKind<Diode>({
  kind: 'diode',
  form: twoEnded(['anode', 'cathode'], { drop_v: notNegativeVolt, on_ohm: ohm }) as never,
  faultModes: {
    open: plainMode('body', 'open'),
    shorted: ohmMode('body', 'shorted', 0.01),
  },
  terminals: (c) => twoTerminals(c, ['anode', 'cathode']),
  terms: (c, { fault }) => ({
    branches: [valve('body', c.ends[0], c.ends[1], c.drop_v, c.on_ohm, fault('body'))],
  }),
});
