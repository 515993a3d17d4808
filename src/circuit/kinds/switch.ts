import { z } from 'zod';
import { ohm, positions } from '../circuit-form.ts';
import { defineKind, type Situation } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

export interface Switch extends TwoEnded {
  readonly control: string;
  readonly closed_at: readonly string[];
  readonly resistance_ohm: number;
}

/** Resistance of an operated contact, or null while it is open. */
export function switchOhm(c: Switch, { fault, position }: Situation): number | null {
  const mode = fault('body');
  if (mode?.mode === 'stuck-open') return null;
  const isClosed = mode?.mode === 'stuck-closed' || c.closed_at.includes(position(c.control));
  if (!isClosed) return null;
  return typeof mode?.value === 'number' ? mode.value : c.resistance_ohm;
}

/** A contact that follows a control: a switch, or a thermo-switch whose control is a temperature. */
export function operatedContact(kind: string) {
  return defineKind<Switch>({
    kind,
    form: twoEnded(['from', 'to'], {
      control: z.string({ error: 'must name a control' }),
      closed_at: positions,
      resistance_ohm: ohm,
    }) as never,
    faultModes: {
      'stuck-open': plainMode('body', 'stuck open'),
      'stuck-closed': plainMode('body', 'stuck closed'),
      resistive: ohmMode('body', 'resistive where closed', 5),
    },
    terminals: (c) => twoTerminals(c),
    follows: (c) => [{ control: c.control, positions: c.closed_at, field: 'closed_at' }],
    terms: (c, situation) => ({
      branches: [{ path: 'body', from: c.ends[0], to: c.ends[1], ohm: switchOhm(c, situation) }],
    }),
  });
}

/** `switch` is a reserved word; the kind's name in a circuit is "switch". */
export const operatedSwitch = operatedContact('switch');
