import { z } from 'zod';
import { type Component, componentBase, nodeName, ohm, positiveVolt } from '../circuit-form.ts';
import { defineKind } from '../kind.ts';
import { ohmMode, plainMode } from './fault-values.ts';

interface SeriesRegulator extends Component {
  readonly input: string;
  readonly output: string;
  readonly return: string;
  readonly output_v: number;
  readonly on_ohm: number;
  readonly works_from_v: number;
  /** Its own draw, input to return. */
  readonly idle_ohm: number;
}

/**
 * A block with declared states: output_v behind on_ohm at its output while the input stands at works_from_v or
 * above, nothing below 95 % of that. What it passes on is not drawn from the input (declare the draw as idle_ohm).
 */
export const seriesRegulator = defineKind<SeriesRegulator>({
  kind: 'series-regulator',
  form: z.looseObject({
    ...componentBase,
    input: nodeName,
    output: nodeName,
    return: nodeName,
    output_v: positiveVolt,
    on_ohm: ohm,
    works_from_v: positiveVolt,
    idle_ohm: ohm,
  }) as never,
  faultModes: {
    dead: plainMode('body', 'dead: no output'),
    'passes-through': ohmMode('body', 'passes its input through', 0.05),
  },
  terminals: (c) => [
    { name: 'input', node: c.input },
    { name: 'output', node: c.output },
    { name: 'return', node: c.return },
  ],
  terms: (c, { fault }) => {
    const own = fault('body');
    const through = typeof own?.value === 'number' ? own.value : null;
    return {
      branches: [
        {
          path: 'output',
          from: c.output,
          to: c.return,
          ohm: own ? null : c.on_ohm,
          emf_v: c.output_v,
          isSource: true,
          gate: [{ bit: 'works', is: true }],
        },
        { path: 'input', from: c.input, to: c.return, ohm: c.idle_ohm },
        { path: 'through', from: c.input, to: c.output, ohm: through },
      ],
      bits: [
        {
          name: 'works',
          plus: c.input,
          minus: c.return,
          on_v: c.works_from_v,
          off_v: 0.95 * c.works_from_v,
          measure: 'signed',
          canTurnOn: !own,
        },
      ],
    };
  },
});
