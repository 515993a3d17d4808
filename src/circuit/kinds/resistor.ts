import { ohm, positiveVolt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import type { Sign } from '../signs.ts';
import { bodyOhm, ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Resistor extends TwoEnded {
  readonly resistance_ohm: number;
  readonly rated_v?: number;
}

/** Shares of the rated voltage at which a load does its full work, or some of it. Common practice, no source. */
const FULL_FROM = 0.75;
const PART_FROM = 0.3;

/** A load of fixed resistance: resistor, horn, heater, coil. */
export function fixedLoad(kind: string) {
  return defineKind<Resistor>({
    kind,
    form: twoEnded(['positive', 'negative'], {
      resistance_ohm: ohm,
      rated_v: positiveVolt.optional(),
    }) as never,
    faultModes: {
      open: plainMode('body', 'open'),
      resistive: ohmMode('body', 'resistive', 5),
    },
    terminals: (c) => twoTerminals(c),
    terms: (c, { fault }) => ({
      branches: [
        { path: 'body', from: c.ends[0], to: c.ends[1], ohm: bodyOhm(fault('body'), c.resistance_ohm) },
      ],
    }),
    sign: (c, seen): Sign | null => {
      const isHorn = kind === 'horn' || c.role === 'horn';
      if (!isHorn && c.rated_v === undefined && c.role === undefined) return null;
      // By current: a corroded or broken horn does not sound although full voltage stands across it.
      const share = (seen.way('body').rms_a * c.resistance_ohm) / (c.rated_v ?? 12);
      const level = share >= FULL_FROM ? 0 : share >= PART_FROM ? 1 : 2;
      const words = isHorn ? (['loud', 'weak', 'silent'] as const) : (['full', 'part', 'none'] as const);
      return { sign: isHorn ? 'sound' : 'load', word: words[level] ?? words[2], fraction: share ** 2 };
    },
  });
}

export const resistor = fixedLoad('resistor');
