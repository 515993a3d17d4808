import { z } from 'zod';
import { type Component, componentBase, nodeName, notNegativeVolt, ohm } from '../circuit-form.ts';
import { defineKind, type FaultMode, type Situation } from '../kind.ts';
import { valve } from './valve.ts';

interface Rectifier extends Component {
  /** Two or three alternating lines. */
  readonly ac: readonly string[];
  readonly positive: string;
  readonly negative: string;
  readonly drop_v: number;
  readonly on_ohm: number;
}

/** One diode at fault: 1 is the first line to positive, 2 negative to the first line, 3 the second line to positive … */
function diodeMode(title: string): FaultMode<Rectifier> {
  return {
    slot: 'diode',
    title: `${title}; value is its number, 1 to 6`,
    value: { form: z.number().int().min(1).max(6), unit: 'index', standard: () => 1 },
  };
}

/** A full-wave bridge of four or six diodes. */
export const rectifier = defineKind<Rectifier>({
  kind: 'rectifier',
  form: z.looseObject({
    ...componentBase,
    ac: z.array(nodeName).min(2, { error: 'must name two or three nodes' }).max(3, {
      error: 'must name two or three nodes',
    }),
    positive: nodeName,
    negative: nodeName,
    drop_v: notNegativeVolt,
    on_ohm: ohm,
  }) as never,
  faultModes: { 'diode-open': diodeMode('one diode open'), 'diode-shorted': diodeMode('one diode shorted') },
  terminals: (c) => [
    ...c.ac.map((node, k) => ({ name: `ac-${k + 1}`, node })),
    { name: 'positive', node: c.positive },
    { name: 'negative', node: c.negative },
  ],
  terms: (c, situation) => ({
    branches: c.ac.flatMap((line, k) => [
      valve(`diode-${2 * k + 1}`, line, c.positive, c.drop_v, c.on_ohm, faultOf(situation, 2 * k + 1)),
      valve(`diode-${2 * k + 2}`, c.negative, line, c.drop_v, c.on_ohm, faultOf(situation, 2 * k + 2)),
    ]),
  }),
});

const SHORTED_OHM = 0.01;

function faultOf({ fault }: Situation, number: number) {
  const own = fault('diode');
  if (own?.value !== number) return undefined;
  return { mode: own.mode, value: own.mode === 'diode-shorted' ? SHORTED_OHM : undefined };
}
