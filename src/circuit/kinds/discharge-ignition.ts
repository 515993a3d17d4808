import { z } from 'zod';
import { type Component, componentBase, ohm, positiveVolt, twoNodes, volt } from '../circuit-form.ts';
import { defineKind, type Term } from '../kind.ts';
import { plainMode } from './fault-values.ts';

interface DischargeIgnition extends Component {
  /** Battery supply, or the charging coil of a unit that feeds itself. */
  readonly supply: readonly [string, string];
  readonly supply_ohm: number;
  /** Mean of the supply's absolute volts from which it sparks. */
  readonly works_from_v: number;
  /** Stop wire and its return: no spark below stop_below_v. */
  readonly stop?: readonly [string, string];
  readonly stop_below_v?: number;
  /** From the supply to the stop wire, inside the unit. */
  readonly stop_pull_up_ohm?: number;
}

const form = z
  .looseObject({
    ...componentBase,
    supply: twoNodes,
    supply_ohm: ohm,
    works_from_v: positiveVolt,
    stop: twoNodes.optional(),
    stop_below_v: volt.optional(),
    stop_pull_up_ohm: ohm.optional(),
  })
  .refine((c) => c.stop === undefined || (c.stop_below_v !== undefined && c.stop_pull_up_ohm !== undefined), {
    error: 'with a stop wire stop_below_v and stop_pull_up_ohm must be given',
    path: ['stop'],
  });

/** A block with two declared states, sparks and does not; its high-voltage side is not part of the network. */
export const dischargeIgnition = defineKind<DischargeIgnition>({
  kind: 'discharge-ignition',
  form: form as never,
  faultModes: {
    dead: plainMode('unit', 'dead: draws current, no spark'),
    'supply-open': plainMode('unit', 'dead: draws nothing'),
    'stop-shorted': plainMode('stop', 'stop wire shorted inside'),
  },
  terminals: (c) => [
    { name: 'supply', node: c.supply[0] },
    { name: 'return', node: c.supply[1] },
    ...(c.stop
      ? [
          { name: 'stop', node: c.stop[0] },
          { name: 'stop-return', node: c.stop[1] },
        ]
      : []),
  ],
  terms: (c, { fault }) => {
    const unit = fault('unit')?.mode;
    const branches: Term[] = [
      {
        path: 'supply',
        from: c.supply[0],
        to: c.supply[1],
        ohm: unit === 'supply-open' ? null : c.supply_ohm,
      },
    ];
    const bits = [
      {
        name: 'fed',
        plus: c.supply[0],
        minus: c.supply[1],
        on_v: c.works_from_v,
        off_v: 0.9 * c.works_from_v,
        measure: 'absolute' as const,
        canTurnOn: unit === undefined,
      },
    ];
    if (!c.stop) return { branches, bits };
    const below = c.stop_below_v ?? 0;
    return {
      branches: [
        ...branches,
        { path: 'stop-pull-up', from: c.supply[0], to: c.stop[0], ohm: c.stop_pull_up_ohm ?? null },
        {
          path: 'stop-short',
          from: c.stop[0],
          to: c.stop[1],
          ohm: fault('stop') ? 0.01 : null,
        },
      ],
      bits: [
        ...bits,
        // Stopped while the stop wire is NOT above its limit: the bit means "free to spark".
        {
          name: 'free',
          plus: c.stop[0],
          minus: c.stop[1],
          on_v: below,
          off_v: below,
          measure: 'absolute' as const,
          canTurnOn: true,
        },
      ],
    };
  },
  sign: (c, seen) => {
    const sparks = seen.isOn('fed') && (!c.stop || seen.isOn('free'));
    return { sign: 'spark', word: sparks ? 'sparks' : 'no-spark', fraction: sparks ? 1 : 0 };
  },
});
