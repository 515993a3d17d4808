/**
 * One operating point against the outside simulator (ngspice, npm package eecircuit-engine) on the same circuit, and the full
 * table of all faults × all checks of the largest circuit at hand. Ratios come from one run on one machine.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { assemble } from '../../src/circuit/assemble.ts';
import { compileCircuit } from '../../src/circuit/compile-circuit.ts';
import {
  type Circuit,
  listFaults,
  nodesOf,
  readCircuit,
  readingTable,
  solveCircuit,
  type TableCheck,
} from '../../src/circuit/index.ts';
import { PointFinder } from '../../src/circuit/operating-point.ts';
import { netlist } from '../reference/circuit-netlist.ts';
import { dice, randomCircuit } from '../reference/circuit-random.ts';
import { Simulator } from '../reference/circuit-simulator.ts';

const shipped = new URL('../../seed/handbook/circuits/', import.meta.url);

function shippedCircuits(): Circuit[] {
  if (!existsSync(shipped)) return [];
  return readdirSync(shipped)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => readCircuit(parse(readFileSync(new URL(name, shipped), 'utf8'))));
}

/** Median milliseconds of one call. */
function median(rounds: number, call: () => void): number {
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return times[rounds >> 1] as number;
}

/** A circuit of the usual size, when none is shipped yet. */
function drawn(): Circuit {
  const roll = dice(5);
  return Array.from({ length: 40 }, () => randomCircuit(roll, { relays: true, diodes: false })).sort(
    (a, b) => b.components.length - a.components.length,
  )[0] as Circuit;
}

/** Every control at its last position: as much as possible is switched on. */
const operated = (circuit: Circuit) =>
  Object.fromEntries(
    Object.entries(circuit.controls).map(([name, { positions }]) => [name, positions.at(-1) ?? '']),
  );

/** A voltmeter from ground to every named point, everything operated. */
function checksOf(circuit: Circuit): TableCheck[] {
  const points = Object.keys(circuit.points);
  const tips = (points.length > 0 ? points : nodesOf(circuit)).filter((name) => name !== circuit.ground);
  return tips.map((tip) => ({
    controls: operated(circuit),
    instrument: { kind: 'voltmeter', tip, lead: circuit.ground },
  }));
}

export async function run(): Promise<object> {
  const circuits = shippedCircuits();
  const bySize = (a: Circuit, b: Circuit) => b.components.length - a.components.length;
  const largest = [...circuits].sort(bySize)[0] ?? drawn();
  const comparable = largest;
  const controls = operated(comparable);

  const simulator = new Simulator();
  await simulator.start();
  const solution = solveCircuit(comparable, { controls });
  const { text } = netlist(
    comparable,
    { controls },
    {
      isOn: (name) => solution.contacts?.[name] === true,
      conducts: (name) => solution.conducting.includes(name),
    },
    solution.floating.map((group) => group[0] as string),
  );
  const timed = async (netlistText: string, rounds: number) => {
    const times: number[] = [];
    for (let round = 0; round < rounds; round++) {
      const start = performance.now();
      await simulator.volts(netlistText);
      times.push(performance.now() - start);
    }
    return times.sort((a, b) => a - b)[rounds >> 1] as number;
  };
  const theirs_ms = await timed(text, 60);
  // Without reading the netlist: what a further point of a sweep of the battery costs it.
  const battery = /^V\S+/m.exec(text)?.[0] ?? '';
  const sweep = (points: number) => text.replace('.op', `.dc ${battery} 12 13 ${1 / points}`);
  const sweepPoint_ms = ((await timed(sweep(2000), 9)) - (await timed(sweep(1000), 9))) / 1000;
  const compiled = compileCircuit(comparable);
  const BATCH = 200;
  const batch = (call: () => void) =>
    median(25, () => {
      for (let k = 0; k < BATCH; k++) call();
    }) / BATCH;
  for (let k = 0; k < 20; k++) batch(() => void solveCircuit(comparable, { controls }));
  const assembly = assemble(compiled, { controls });
  const point_ms = batch(() => void new PointFinder(assembly).find(null));
  const whole_ms = batch(() => void solveCircuit(comparable, { controls }));

  const faults = [[], ...listFaults(largest).map((fault) => [fault])];
  const checks = checksOf(largest);
  for (let k = 0; k < 20; k++) readingTable(largest, faults, checks);
  const tables = Array.from({ length: 40 }, () =>
    median(1, () => void readingTable(largest, faults, checks)),
  );
  const table_ms = tables.sort((a, b) => a - b)[20] as number;

  const micro = (ms: number) => Math.round(ms * 1e5) / 100;
  return {
    operatingPoint: {
      circuit: comparable.id,
      components: comparable.components.length,
      simulator_us: micro(theirs_ms),
      simulatorFurtherPointOfSweep_us: micro(sweepPoint_ms),
      ours_us: micro(point_ms),
      oursWithEveryCurrentAndName_us: micro(whole_ms),
      timesFaster: Math.round(theirs_ms / point_ms),
      timesFasterThanFurtherPoint: Math.round((10 * sweepPoint_ms) / point_ms) / 10,
      timesFasterWithEverything: Math.round(theirs_ms / whole_ms),
      goal: 'at least 100 times faster',
    },
    table: {
      circuit: largest.id,
      components: largest.components.length,
      faults: faults.length,
      checks: checks.length,
      cells: faults.length * checks.length,
      table_ms: Math.round(table_ms * 1000) / 1000,
      bestTable_ms: Math.round((tables[0] as number) * 1000) / 1000,
      cell_us: micro(table_ms / (faults.length * checks.length)),
      goal: 'under 5 ms',
    },
  };
}
