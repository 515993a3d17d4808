import type { Cause } from '../book/index.ts';
import {
  type Circuit,
  drawCircuit,
  faultModesOf,
  readCircuit,
  showCircuit,
  solveCircuit,
} from '../circuit/index.ts';
import { Problem, quoted } from '../problem.ts';
import type { CauseId } from '../terms.ts';
import type { OutputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { modelOr404 } from './people.ts';

export const circuits = {
  'circuits.list': async (desk, { modelId }) => {
    const { book, circuit } = await desk.book();
    const ids =
      modelId === undefined ? [...book.circuits.keys()] : modelOr404(book.models, modelId).circuitIds;
    return {
      circuits: ids.flatMap((id) => {
        const found = circuit(id);
        return found ? [circuitView(found, book.causes.values())] : [];
      }),
    };
  },
  'circuits.solve': async (desk, input) => {
    const { circuit: which, ...options } = input;
    const circuit = typeof which === 'string' ? await circuitOr404(desk, which) : readCircuit(which);
    const solved = solveCircuit(circuit, options);
    return {
      nodes: solved.nodes,
      chatter: solved.chatter,
      imbalance_a: solved.imbalance_a,
      overloads: [...solved.overloads],
      ...(solved.reading === undefined ? {} : { reading: solved.reading }),
    };
  },
  'circuits.draw': async (desk, input) => {
    const { circuitId, causeId, faults = [], ...bench } = input;
    const circuit = await circuitOr404(desk, circuitId);
    const cause = causeId === undefined ? undefined : await causeOr404(desk, causeId);
    const wiring = cause?.wiring[circuit.id as keyof typeof cause.wiring];
    const own = wiring && 'faults' in wiring ? wiring.faults : [];
    const state = showCircuit(circuit, { ...bench, faults: [...own, ...faults] });
    return structuredClone({
      drawing: drawCircuit(circuit),
      state,
      controls: Object.entries(circuit.controls).map(([id, { title, positions }]) => ({
        id,
        title: title ?? id,
        positions,
        stands: state.controls[id] ?? '',
      })),
      plugs: Object.entries(circuit.plugs).map(([id, { title }]) => ({
        id,
        title,
        parted: input.unplugged?.includes(id) ?? false,
      })),
      ...(cause ? { cause: causeWord(wiring) } : {}),
    }) as OutputOf<'circuits.draw'>;
  },
} satisfies Group<'circuits.'>;

function causeWord(wiring: Cause['wiring'][keyof Cause['wiring']] | undefined) {
  if (!wiring) return 'unknown' as const;
  return 'faults' in wiring ? ('faults' as const) : ('healthy' as const);
}

async function causeOr404(desk: Desk, id: string): Promise<Cause> {
  const found = (await desk.book()).book.causes.get(id as CauseId);
  if (!found) {
    throw new Problem('not-found', `The book has no cause ${quoted(id)}.`, { field: 'causeId', id });
  }
  return found;
}

async function circuitOr404(desk: Desk, id: string): Promise<Circuit> {
  const found = (await desk.book()).circuit(id);
  if (!found)
    throw new Problem('not-found', `The book has no circuit ${quoted(id)}; circuits.list names them.`, {
      field: 'circuit',
      id,
    });
  return found;
}

const circuitView = (circuit: Circuit, causes: Iterable<Cause>) => ({
  circuitId: circuit.id,
  title: circuit.title,
  controls: Object.fromEntries(
    Object.entries(circuit.controls).map(([id, control]) => [
      id,
      { positions: [...control.positions], rest: control.rest },
    ]),
  ),
  plugs: Object.fromEntries(Object.entries(circuit.plugs).map(([id, plug]) => [id, plug.title ?? id])),
  points: Object.fromEntries(Object.entries(circuit.points).map(([id, point]) => [id, point.title ?? id])),
  faults: circuit.components.map((component) => ({
    component: component.id,
    modes: faultModesOf(component.kind).map((mode) => mode.mode),
  })),
  causes: [...causes]
    .filter(({ wiring }) => causeWord(wiring[circuit.id as keyof typeof wiring]) === 'faults')
    .map(({ id }) => id),
});
