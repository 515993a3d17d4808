import { ohm } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { bodyOhm, ohmMode, plainMode, shortedTo } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Wire extends TwoEnded {
  readonly resistance_ohm: number;
}

export const wire = defineKind<Wire>({
  kind: 'wire',
  form: twoEnded(['from', 'to'], { resistance_ohm: ohm }) as never,
  faultModes: {
    open: plainMode('body', 'open'),
    resistive: ohmMode('body', 'resistive', 5),
    'shorted-to': shortedTo,
  },
  terminals: (c) => twoTerminals(c),
  terms: (c, { fault }) => {
    const touch = fault('short')?.value as { node: string; ohm: number } | undefined;
    return {
      branches: [
        { path: 'body', from: c.ends[0], to: c.ends[1], ohm: bodyOhm(fault('body'), c.resistance_ohm) },
      ],
      extra: touch ? [{ path: 'short', from: c.ends[0], to: touch.node, ohm: touch.ohm }] : [],
    };
  },
});
