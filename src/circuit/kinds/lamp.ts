import { positiveVolt, watt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { lampWord } from '../signs.ts';
import { bodyOhm, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Lamp extends TwoEnded {
  readonly rated_v: number;
  readonly rated_w: number;
}

/** A filament at its rated resistance, rated_v² / rated_w, at every voltage. */
export const lamp = defineKind<Lamp>({
  kind: 'lamp',
  form: twoEnded(['positive', 'negative'], { rated_v: positiveVolt, rated_w: watt }) as never,
  faultModes: { 'burnt-out': plainMode('body', 'burnt out') },
  terminals: (c) => twoTerminals(c),
  terms: (c, { fault }) => ({
    branches: [
      {
        path: 'body',
        from: c.ends[0],
        to: c.ends[1],
        ohm: bodyOhm(fault('body'), c.rated_v ** 2 / c.rated_w),
      },
    ],
  }),
  sign: (c, seen) => {
    // By current, not by the volts across the socket: a burnt-out or missing lamp is dark at full voltage.
    const volts = seen.way('body').rms_a * (c.rated_v ** 2 / c.rated_w);
    return { sign: 'lamp', word: lampWord(volts, c.rated_v), fraction: (volts / c.rated_v) ** 2 };
  },
});
