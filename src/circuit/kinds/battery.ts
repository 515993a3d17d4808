import { ohm, positiveVolt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { batteryValue } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Battery extends TwoEnded {
  readonly emf_v: number;
  readonly resistance_ohm: number;
}

const DISCHARGED = { emf_v: 11.2, resistance_ohm: 0.12 };
const DEAD = { emf_v: 2, resistance_ohm: 2 };

/** emf_v behind resistance_ohm; first end positive. */
export const battery = defineKind<Battery>({
  kind: 'battery',
  form: twoEnded(['positive', 'negative'], { emf_v: positiveVolt, resistance_ohm: ohm }) as never,
  faultModes: {
    discharged: {
      slot: 'body',
      title: 'discharged',
      value: { form: batteryValue(DISCHARGED), unit: 'battery', standard: () => DISCHARGED },
    },
    dead: {
      slot: 'body',
      title: 'dead',
      value: { form: batteryValue(DEAD), unit: 'battery', standard: () => DEAD },
    },
  },
  terminals: (c) => twoTerminals(c, ['positive', 'negative']),
  terms: (c, { fault }) => {
    const cell = (fault('body')?.value ?? c) as { emf_v: number; resistance_ohm: number };
    return {
      branches: [
        {
          path: 'body',
          from: c.ends[0],
          to: c.ends[1],
          ohm: cell.resistance_ohm,
          emf_v: cell.emf_v,
          isSource: true,
        },
      ],
    };
  },
});
