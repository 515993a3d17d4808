import { z } from 'zod';
import { type Component, componentBase, nodeName, ohm } from '../circuit-form.ts';
import { defineKind, type Term } from '../kind.ts';
import { ohmMode, shortedTo } from './fault-values.ts';
import { peakVolts, type WindingVolts, weakRotor, windingFields, windingFollows } from './stator.ts';

interface ThreePhaseStator extends Component, Omit<WindingVolts, 'id'> {
  readonly ends: readonly [string, string, string];
  /** Of one winding, line to star point. */
  readonly resistance_ohm: number;
}

const star = (c: { id: string }) => `${c.id}#star`;

/** Three windings in star, 120° apart, the star point inside: it reads to ground only when something is wrong. */
export const threePhaseStator = defineKind<ThreePhaseStator>({
  kind: 'three-phase-stator',
  form: z.looseObject({
    ...componentBase,
    ends: z.tuple([nodeName, nodeName, nodeName], { error: 'must name three nodes' }),
    ...windingFields,
    resistance_ohm: ohm,
  }) as never,
  faultModes: {
    'winding-open': {
      slot: 'winding',
      title: 'one winding open; value is its number, 1 to 3',
      value: { form: z.number().int().min(1).max(3), unit: 'index', standard: () => 1 },
    },
    'phases-shorted': ohmMode('phases', 'first two lines touch', 0.01),
    weak: weakRotor,
    'shorted-to': shortedTo,
  },
  terminals: (c) => c.ends.map((node, k) => ({ name: `line-${k + 1}`, node })),
  innerNodes: (c) => [star(c)],
  follows: windingFollows,
  terms: (c, situation) => {
    const peak_v = peakVolts(c, situation);
    const open = situation.fault('winding')?.value;
    const touching = situation.fault('phases')?.value;
    const touch = situation.fault('short')?.value as { node: string; ohm: number } | undefined;
    const extra: Term[] = [];
    if (touch) extra.push({ path: 'short', from: c.ends[0], to: touch.node, ohm: touch.ohm });
    if (typeof touching === 'number') {
      extra.push({ path: 'phases-short', from: c.ends[0], to: c.ends[1], ohm: touching });
    }
    return {
      branches: c.ends.map((node, k) => ({
        path: `winding-${k + 1}`,
        from: node,
        to: star(c),
        ohm: open === k + 1 ? null : c.resistance_ohm,
        sine: { peak_v, phase_deg: -120 * k },
        isSource: peak_v > 0,
      })),
      extra,
    };
  },
});
