import { ohm, positiveVolt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { bodyOhm, ohmMode, plainMode } from './fault-values.ts';
import { type TwoEnded, twoEnded, twoTerminals } from './two-ends.ts';

interface Motor extends TwoEnded {
  readonly running_ohm: number;
  readonly stall_ohm?: number;
  readonly rated_v?: number;
}

/** Shares of the nominal current (rated_v, 12 V if not given, over running_ohm) that still turn it. Common practice, no source. */
const NORMAL_FROM = 0.75;
const SLOW_FROM = 0.2;
/** A seized motor given this many times its stall resistance is dragged, not stalled. Common practice, no source. */
const DRAGS_FROM = 1.5;

export const motor = defineKind<Motor>({
  kind: 'motor',
  form: twoEnded(['positive', 'negative'], {
    running_ohm: ohm,
    stall_ohm: ohm.optional(),
    rated_v: positiveVolt.optional(),
  }) as never,
  faultModes: {
    open: plainMode('body', 'open'),
    seized: ohmMode('body', 'seized', (c) => c.stall_ohm ?? null),
    worn: ohmMode('body', 'worn', (c) => 4 * c.running_ohm),
  },
  terminals: (c) => twoTerminals(c, ['positive', 'negative']),
  terms: (c, { fault }) => ({
    branches: [{ path: 'body', from: c.ends[0], to: c.ends[1], ohm: bodyOhm(fault('body'), c.running_ohm) }],
  }),
  sign: (c, seen, { fault }) => {
    const mode = fault('body')?.mode;
    if (mode === 'open') return { sign: 'motor', word: 'still', fraction: 0 };
    const fraction = seen.way('body').rms_a / ((c.rated_v ?? 12) / c.running_ohm);
    if (mode === 'seized') {
      // Held short of a standstill it draws more than running and less than stalled, and turns slowly.
      const isDragging =
        (bodyOhm(fault('body'), c.running_ohm) ?? 0) >= DRAGS_FROM * (c.stall_ohm ?? c.running_ohm);
      return isDragging && fraction >= SLOW_FROM
        ? { sign: 'motor', word: 'slow', fraction }
        : { sign: 'motor', word: 'still', fraction: 0 };
    }
    const word = fraction >= NORMAL_FROM ? 'normal' : fraction >= SLOW_FROM ? 'slow' : 'still';
    return { sign: 'motor', word, fraction };
  },
});
