/**
 * Every shipped circuit under every fault, in several stances and with an instrument, against ngspice (npm package
 * eecircuit-engine): contacts and diodes frozen at our fixed point, 1e-6 relative + 1 µV at every known node, at every
 * phase angle, and in the reading. Then the fixed point itself, on the simulator's voltages.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { assemble } from '../../src/circuit/assemble.ts';
import { compileCircuit } from '../../src/circuit/compile-circuit.ts';
import {
  type Circuit,
  type Instrument,
  listFaults,
  readCircuit,
  solveCircuit,
} from '../../src/circuit/index.ts';
import { connect, loadOf } from '../../src/circuit/instruments.ts';
import { type OperatingPoint, type PhasePoint, PointFinder } from '../../src/circuit/operating-point.ts';
import { joined, netlist, type Situation } from './circuit-netlist.ts';
import { dice } from './circuit-random.ts';
import { Simulator } from './circuit-simulator.ts';

const folder = new URL('../../seed/handbook/circuits/', import.meta.url);
const SEED = Number(process.env.CIRCUIT_SEED ?? 99);
/** All points with every fault instead of one in turn: slow, for a quiet machine. */
const EVERY_POINT = process.env.CIRCUIT_EVERY_POINT === '1';
const COPIES = 48;
const simulator = new Simulator();
beforeAll(() => simulator.start());

const circuits = existsSync(folder)
  ? readdirSync(folder)
      .filter((name) => name.endsWith('.yaml'))
      .map((name) => readCircuit(parse(readFileSync(new URL(name, folder), 'utf8'))))
  : [];

type Probed = Extract<Instrument, { tip: string }>;

interface Case {
  situation: Situation & { instrument: Probed };
  point: OperatingPoint;
  /** What solveCircuit reads. */
  volts: number | null;
}

/** At rest, everything at its last position, each position of each control alone, and a few at random. */
function stances(circuit: Circuit): Record<string, string>[] {
  const controls = Object.entries(circuit.controls);
  const roll = dice(SEED);
  const random = () =>
    Object.fromEntries(
      controls.map(([name, { positions }]) => [name, positions[Math.floor(roll() * positions.length)] ?? '']),
    );
  const most = [
    {},
    Object.fromEntries(controls.map(([name, { positions }]) => [name, positions.at(-1) ?? ''])),
    ...controls.flatMap(([name, { positions, rest }]) =>
      positions.filter((position) => position !== rest).map((position) => ({ [name]: position })),
    ),
    random(),
    random(),
    random(),
  ];
  // An alternator makes 36 networks of every case: fewer stances there.
  return circuit.components.some(({ kind }) => kind.includes('stator')) ? most.slice(0, 3) : most;
}

function* casesOf(circuit: Circuit): Generator<Case> {
  const compiled = compileCircuit(circuit);
  const points = Object.entries(circuit.points);
  const faults = [
    [],
    ...listFaults(circuit).map(({ component, mode, value }) => [{ component, mode, value }]),
  ];
  const plugs = Object.keys(circuit.plugs);
  let turn = 0;
  for (const own of faults) {
    for (const controls of stances(circuit)) {
      const tips = EVERY_POINT ? points.map((_, k) => k) : [turn++ % Math.max(1, points.length)];
      for (const k of tips) {
        const [tip = circuit.ground, at] = points[k] ?? [];
        const kind = turn % 5 === 0 && !at?.electronic ? 'test-lamp' : 'voltmeter';
        const lead = points[(k * 7 + 3) % Math.max(1, points.length)];
        const instrument: Probed = {
          kind: lead?.[1].electronic ? 'voltmeter' : kind,
          tip,
          lead: turn % 3 === 0 && lead ? lead[0] : circuit.ground,
        };
        const unplugged = turn % 7 === 0 && plugs.length > 0 ? [plugs[turn % plugs.length] as string] : [];
        const situation = { faults: own, controls, unplugged, instrument };
        const assembly = assemble(compiled, situation);
        const point = new PointFinder(assembly).find(loadOf(connect(assembly, instrument)));
        const { reading } = solveCircuit(circuit, situation);
        yield { situation, point, volts: reading?.volts ?? null };
      }
    }
  }
}

interface Copy {
  lines: readonly string[];
  compare(volts: (node: string) => number): void;
}

function expectClose(got: number, wanted: number, what: () => string): void {
  if (!(Math.abs(got - wanted) <= 1e-6 * Math.abs(wanted) + 1e-6)) {
    expect.fail(`${what()}: ours ${got}, simulator ${wanted}`);
  }
}

/** One copy of the network for each angle; the last one also compares the reading. */
function copiesOf(circuit: Circuit, one: Case, prefix: string): Copy[] {
  const { assembly, state } = one.point;
  const { nodeNames } = assembly.compiled;
  const on = new Set(
    assembly.bits
      .map((bit, k) => ({
        name: `${circuit.components[bit.component]?.id}.${bit.name}`,
        isOn: state.bits[k] === 1,
      }))
      .filter(({ isOn }) => isOn)
      .map(({ name }) => name),
  );
  const across: number[] = [];
  const { instrument } = one.situation;
  return state.points.map((angle, k) => {
    const conducting = new Set(
      assembly.branches
        .filter((branch) => branch.valve >= 0 && angle.valves[branch.valve] === 1)
        .map((branch) => `${circuit.components[branch.component]?.id}.${branch.path}`),
    );
    const { lines, node } = netlist(
      circuit,
      angle.loadFloats ? { ...one.situation, instrument: undefined } : one.situation,
      { isOn: (name) => on.has(name), conducts: (name) => conducting.has(name), angle_rad: angle.angle_rad },
      leaksOf(angle, nodeNames),
      `${prefix}a${k}_`,
    );
    const what = (name: string) => () => `${circuit.id} ${JSON.stringify(one.situation)} at ${name}`;
    return {
      lines,
      compare: (volts) => {
        for (const [n, name] of nodeNames.entries()) {
          if (angle.island[n] === 0) expectClose(angle.volts[n] as number, volts(node(name)), what(name));
        }
        across.push(angle.loadFloats ? 0 : volts(node(instrument.tip)) - volts(node(instrument.lead)));
        expectConsistent(one, angle, (n) => (n < 0 ? 0 : volts(node(nodeNames[n] as string))));
        if (across.length < state.points.length) return;
        const mean = across.reduce((sum, v) => sum + v, 0) / across.length;
        const square = across.reduce((sum, v) => sum + v * v, 0) / across.length;
        const wanted = instrument.kind === 'test-lamp' && across.length > 1 ? Math.sqrt(square) : mean;
        if (one.volts === null) expect.fail(what('no reading')());
        else expectClose(one.volts, wanted, what(instrument.kind));
      },
    };
  });
}

function leaksOf(angle: PhasePoint, names: readonly string[]): string[] {
  const first = new Map<number, string>();
  for (const [n, name] of names.entries()) {
    const island = angle.joined[n] as number;
    if (island !== 0 && !first.has(island)) first.set(island, name);
  }
  // A load that floats is left out, so both of its islands need a hold.
  const own = new Map<number, string>();
  for (const [n, name] of names.entries()) {
    const island = angle.island[n] as number;
    if (island !== 0 && !own.has(island)) own.set(island, name);
  }
  return [...(angle.loadFloats ? own : first).values()];
}

/** Diodes inside one island agree with the simulator's voltages; contacts do too where one angle decides them. */
function expectConsistent(one: Case, angle: PhasePoint, at: (node: number) => number): void {
  const { assembly, state } = one.point;
  // The simulator's circuit lacks a load that floats.
  const islands = angle.loadFloats ? angle.island : angle.joined;
  const island = (node: number) => (node < 0 ? 0 : islands[node]);
  for (const branch of assembly.branches) {
    if (branch.valve < 0 || branch.siemens === 0 || island(branch.from) !== 0 || island(branch.to) !== 0)
      continue;
    const excess = at(branch.from) - at(branch.to) - branch.emf_v;
    if (angle.valves[branch.valve] === 1) expect(excess).toBeGreaterThan(-1e-5);
    else expect(excess).toBeLessThan(1e-5);
  }
  if (state.points.length > 1) return;
  for (const [k, bit] of assembly.bits.entries()) {
    if (!bit.canTurnOn || island(bit.plus) !== 0 || island(bit.minus) !== 0) continue;
    const v = at(bit.plus) - at(bit.minus);
    const sensed = bit.isAbsolute ? Math.abs(v) : v;
    if (state.bits[k] === 1) expect(sensed).toBeGreaterThan(bit.off_v - 1e-5);
    else if (sensed >= bit.on_v + 1e-5)
      expect.fail(`${JSON.stringify(one.situation)} ${bit.name} off at ${sensed} V`);
  }
}

describe.skipIf(circuits.length === 0)('shipped circuits', () => {
  it.each(circuits.map((circuit) => ({ id: circuit.id, circuit })))(
    `$id agrees with the simulator under every fault (seed ${SEED})`,
    async ({ circuit }) => {
      const counts = { compared: 0, chatter: 0, floating: 0, networks: 0 };
      let batch: Copy[] = [];
      const flush = async () => {
        const volts = await simulator.volts(joined(batch.map(({ lines }) => lines)));
        for (const copy of batch) copy.compare(volts);
        counts.networks += batch.length;
        batch = [];
      };
      for (const one of casesOf(circuit)) {
        if (one.point.chatter) {
          expect(one.volts).toBeNull();
          counts.chatter++;
          continue;
        }
        counts.compared++;
        if (one.point.state.points.every(({ loadFloats }) => loadFloats)) counts.floating++;
        batch.push(...copiesOf(circuit, one, `c${counts.compared}`));
        if (batch.length >= COPIES) await flush();
      }
      if (batch.length > 0) await flush();
      console.log(`${circuit.id}: ${JSON.stringify(counts)}`);
      expect(counts.compared).toBeGreaterThan(listFaults(circuit).length);
    },
    600_000,
  );
});
