import { z } from 'zod';
import {
  type Component,
  componentBase,
  ohm,
  positions,
  positiveVolt,
  twoNodes,
  volt,
} from '../circuit-form.ts';
import { type Bit, defineKind, type Term } from '../kind.ts';
import { plainMode } from './fault-values.ts';

interface Input {
  readonly id: string;
  readonly ends: readonly [string, string];
  /** Between its ends. */
  readonly load_ohm?: number;
  /** From the supply to its first end. */
  readonly pull_up_ohm?: number;
  /** Active at this many volts or more … */
  readonly above_v?: number;
  /** … or below this many. One of the two. */
  readonly below_v?: number;
}

interface Output {
  readonly ends: readonly [string, string];
  readonly resistance_ohm: number;
  /** Inputs that must all be active. */
  readonly needs?: readonly string[];
  /** Or a declared state: closed only at these positions of the unit's control. */
  readonly closed_at?: readonly string[];
}

interface ControlUnit extends Component {
  readonly supply: readonly [string, string];
  readonly supply_ohm: number;
  readonly works_from_v: number;
  readonly control?: string;
  readonly inputs?: readonly Input[];
  readonly outputs?: readonly Output[];
  /** Supplies it makes: a sensor's 5 V. */
  readonly lines?: readonly {
    readonly ends: readonly [string, string];
    readonly emf_v: number;
    readonly resistance_ohm: number;
  }[];
}

/** Below this share of works_from_v a working unit stops; an input lets go this much later than it acts. */
const STOPS_AT = 0.9;
const INPUT_HYSTERESIS_V = 0.2;

const form = z.looseObject({
  ...componentBase,
  supply: twoNodes,
  supply_ohm: ohm,
  works_from_v: positiveVolt,
  control: z.string().optional(),
  inputs: z
    .array(
      z
        .looseObject({
          id: z.string().min(1),
          ends: twoNodes,
          load_ohm: ohm.optional(),
          pull_up_ohm: ohm.optional(),
          above_v: volt.optional(),
          below_v: volt.optional(),
        })
        .refine((i) => (i.above_v === undefined) !== (i.below_v === undefined), {
          error: 'must have either above_v or below_v',
        }),
    )
    .optional(),
  outputs: z
    .array(
      z.looseObject({
        ends: twoNodes,
        resistance_ohm: ohm,
        needs: z.array(z.string()).optional(),
        closed_at: positions.optional(),
      }),
    )
    .optional(),
  lines: z.array(z.looseObject({ ends: twoNodes, emf_v: positiveVolt, resistance_ohm: ohm })).optional(),
});

const checked = form.superRefine((unit, context) => {
  const known = new Set((unit.inputs ?? []).map((input) => input.id));
  for (const [k, output] of (unit.outputs ?? []).entries()) {
    const missing = (output.needs ?? []).findIndex((need) => !known.has(need));
    if (missing >= 0) {
      context.addIssue({
        code: 'custom',
        message: 'must be the id of one of the inputs',
        path: ['outputs', k, 'needs', missing],
      });
    }
    if (output.closed_at && unit.control === undefined) {
      context.addIssue({
        code: 'custom',
        message: 'needs the control it names positions of',
        path: ['outputs', k, 'closed_at'],
      });
    }
  }
});

function inputBit(input: Input): Bit {
  const [first, second] = input.ends;
  const common = { name: `input-${input.id}`, measure: 'signed' as const, canTurnOn: true };
  // "Below" is "above" of the voltage the other way round.
  return input.above_v !== undefined
    ? {
        ...common,
        plus: first,
        minus: second,
        on_v: input.above_v,
        off_v: input.above_v - INPUT_HYSTERESIS_V,
      }
    : {
        ...common,
        plus: second,
        minus: first,
        on_v: -(input.below_v ?? 0),
        off_v: -(input.below_v ?? 0) - INPUT_HYSTERESIS_V,
      };
}

/** A block: it works from its supply, closes outputs by its inputs or by a declared state, and feeds sensor lines. */
export const controlUnit = defineKind<ControlUnit>({
  kind: 'control-unit',
  form: checked as never,
  faultModes: {
    dead: plainMode('unit', 'dead: draws current, does nothing'),
    'supply-open': plainMode('unit', 'dead: draws nothing'),
    'output-open': plainMode('outputs', 'outputs never close'),
    'output-closed': plainMode('outputs', 'outputs always closed'),
  },
  terminals: (c) => [
    { name: 'supply', node: c.supply[0] },
    { name: 'return', node: c.supply[1] },
    ...(c.inputs ?? []).flatMap((input) => [
      { name: `input-${input.id}`, node: input.ends[0] },
      { name: `input-${input.id}-return`, node: input.ends[1] },
    ]),
    ...(c.outputs ?? []).flatMap((output, k) => [
      { name: `output-${k + 1}`, node: output.ends[0] },
      { name: `output-${k + 1}-return`, node: output.ends[1] },
    ]),
    ...(c.lines ?? []).flatMap((line, k) => [
      { name: `line-${k + 1}`, node: line.ends[0] },
      { name: `line-${k + 1}-return`, node: line.ends[1] },
    ]),
  ],
  follows: (c) =>
    c.control === undefined
      ? []
      : [
          {
            control: c.control,
            positions: (c.outputs ?? []).flatMap((output) => output.closed_at ?? []),
            field: 'outputs',
          },
        ],
  terms: (c, { fault, position }) => {
    const unit = fault('unit')?.mode;
    const outputs = fault('outputs')?.mode;
    const works = { bit: 'works', is: true };
    const branches: Term[] = [
      {
        path: 'supply',
        from: c.supply[0],
        to: c.supply[1],
        ohm: unit === 'supply-open' ? null : c.supply_ohm,
      },
    ];
    for (const input of c.inputs ?? []) {
      const { id, ends, load_ohm, pull_up_ohm } = input;
      if (load_ohm !== undefined)
        branches.push({ path: `input-${id}`, from: ends[0], to: ends[1], ohm: load_ohm });
      if (pull_up_ohm !== undefined) {
        branches.push({ path: `pull-up-${id}`, from: c.supply[0], to: ends[0], ohm: pull_up_ohm });
      }
    }
    for (const [k, output] of (c.outputs ?? []).entries()) {
      const isDeclaredOpen =
        output.closed_at !== undefined &&
        c.control !== undefined &&
        !output.closed_at.includes(position(c.control));
      const isOpen = outputs === 'output-open' || (isDeclaredOpen && outputs !== 'output-closed');
      branches.push({
        path: `output-${k + 1}`,
        from: output.ends[0],
        to: output.ends[1],
        ohm: isOpen ? null : output.resistance_ohm,
        gate:
          outputs === 'output-closed'
            ? []
            : [works, ...(output.needs ?? []).map((need) => ({ bit: `input-${need}`, is: true }))],
      });
    }
    for (const [k, line] of (c.lines ?? []).entries()) {
      branches.push({
        path: `line-${k + 1}`,
        from: line.ends[0],
        to: line.ends[1],
        ohm: line.resistance_ohm,
        emf_v: line.emf_v,
        isSource: true,
        gate: [works],
      });
    }
    return {
      branches,
      bits: [
        {
          name: 'works',
          plus: c.supply[0],
          minus: c.supply[1],
          on_v: c.works_from_v,
          off_v: STOPS_AT * c.works_from_v,
          measure: 'signed',
          canTurnOn: unit === undefined,
        },
        ...(c.inputs ?? []).map(inputBit),
      ],
    };
  },
  sign: (_c, seen) =>
    seen.isOn('works')
      ? { sign: 'unit', word: 'works', fraction: 1 }
      : { sign: 'unit', word: 'dead', fraction: 0 },
});
