import { ampere, ohm } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { bodyOhm, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Fuse extends TwoEnded {
  readonly rating_a: number;
  readonly resistance_ohm: number;
}

/** Opens only by its fault; a current over the rating is reported as an overload. */
export const fuse = defineKind<Fuse>({
  kind: 'fuse',
  form: twoEnded(['from', 'to'], { rating_a: ampere, resistance_ohm: ohm }) as never,
  faultModes: { blown: plainMode('body', 'blown') },
  terminals: (c) => twoTerminals(c),
  terms: (c, { fault }) => ({
    branches: [
      { path: 'body', from: c.ends[0], to: c.ends[1], ohm: bodyOhm(fault('body'), c.resistance_ohm) },
    ],
  }),
});
