import { type Assembly, assembleStance, type Bench, takeStance } from './assemble.ts';
import type { Circuit, Component } from './circuit-form.ts';
import { type CompiledCircuit, compileCircuit } from './compile-circuit.ts';
import { parseFaults } from './faults.ts';
import { type OperatingPoint, PointFinder, type State } from './operating-point.ts';
import { mean, rootMeanSquare, seenWay } from './seen-values.ts';
import type { SeenParts, SeenWay, Sign, SignWord } from './signs.ts';

/** What one component shows, beside what it shows in the healthy circuit under the same controls. */
export interface NoticedSign extends Sign {
  readonly component: string;
  readonly title?: string;
  readonly role?: string;
  readonly healthy: { readonly word: SignWord; readonly fraction: number };
}

export interface Noticed {
  readonly chatter: boolean;
  readonly chattering: readonly string[];
  readonly signs: readonly NoticedSign[];
}

/**
 * What a rider or technician notices with the machine standing as given: lamps, horn, motors, relays, units;
 * words and fractions as in METHOD.md. A motor that turns although it stands still in the healthy circuit under the
 * same controls `runs-on`. With chatter, words come from the mean over the repeating states.
 *
 * Throws Problem `bad-circuit` as solveCircuit does.
 */
export function noticed(circuit: Circuit, bench: Bench = {}): Noticed {
  const compiled = compileCircuit(circuit);
  const stance = takeStance(compiled, bench);
  const find = (faults: NonNullable<Bench['faults']>) =>
    new PointFinder(assembleStance(compiled, stance, parseFaults(compiled, faults))).find(null);
  const healthy = find([]);
  const faults = bench.faults ?? [];
  const point = faults.length === 0 ? healthy : find(faults);
  const signs = circuit.components.flatMap((component, index): NoticedSign[] => {
    const own = signOf(compiled, component, index, point);
    const normal = signOf(compiled, component, index, healthy);
    if (!own || !normal) return [];
    const runsOn = own.sign === 'motor' && own.word !== 'still' && normal.word === 'still';
    return [
      {
        component: component.id,
        ...(component.title === undefined ? {} : { title: component.title }),
        ...(component.role === undefined ? {} : { role: component.role }),
        ...own,
        word: runsOn ? 'runs-on' : own.word,
        healthy: { word: normal.word, fraction: normal.fraction },
      },
    ];
  });
  return { chatter: point.chatter, chattering: point.chattering, signs };
}

function signOf(
  compiled: CompiledCircuit,
  component: Component,
  index: number,
  point: OperatingPoint,
): Sign | null {
  const { assembly } = point;
  const faults = assembly.faults.get(index) ?? [];
  const sign = compiled.kinds[index]?.sign(
    component,
    seenParts(assembly, index, point.chatter ? point.cycle : [point.state]),
    {
      fault: (slot) => faults.find((fault) => fault.slot === slot),
      position: assembly.position,
      ground: compiled.circuit.ground,
    },
  );
  if (!sign) return null;
  const chatters = sign.sign === 'relay' && point.chattering.includes(component.id);
  return chatters ? { ...sign, word: 'chatter', fraction: 0.5 } : sign;
}

/** Over several states: means, and a contact is on only when it is on in all of them. */
function seenParts(assembly: Assembly, index: number, states: readonly State[]): SeenParts {
  const { compiled } = assembly;
  const firstBranch = compiled.branchStart[index] as number;
  const firstBit = compiled.bitStart[index] as number;
  const own = compiled.atRest[index];
  return {
    way: (path) => {
      const k = own?.branches.findIndex((branch) => branch.path === path) ?? -1;
      const branch = assembly.branches[firstBranch + k];
      if (k < 0 || !branch) return NOTHING;
      const ways = states.map((state) => seenWay(state, branch));
      return {
        mean_v: mean(ways.map((way) => way.mean_v)),
        rms_v: rootMeanSquare(ways.map((way) => way.rms_v)),
        mean_a: mean(ways.map((way) => way.mean_a)),
        rms_a: rootMeanSquare(ways.map((way) => way.rms_a)),
      };
    },
    isOn: (name) => {
      const k = own?.bits.findIndex((bit) => bit.name === name) ?? -1;
      return k >= 0 && states.every((state) => state.bits[firstBit + k] === 1);
    },
  };
}

const NOTHING: SeenWay = { mean_v: 0, rms_v: 0, mean_a: 0, rms_a: 0 };
