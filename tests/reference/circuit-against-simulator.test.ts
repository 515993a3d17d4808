/**
 * Our readings against ngspice (npm package eecircuit-engine), contacts and diodes frozen at our fixed point and
 * replaced by the same resistors and sources: 1e-6 relative + 1 µV. The fixed point itself is then checked on
 * the simulator's voltages, and for relays the stepping is repeated by the simulator alone.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Circuit, type CircuitSolution, solveCircuit } from '../../src/circuit/index.ts';
import { Problem } from '../../src/problem.ts';
import { netlist, type Situation } from './circuit-netlist.ts';
import { dice, randomCircuit, randomSituation } from './circuit-random.ts';
import { Simulator } from './circuit-simulator.ts';

const SEED = Number(process.env.CIRCUIT_SEED ?? 20_260_401);
const CASES = Number(process.env.CIRCUIT_CASES ?? 250);
const simulator = new Simulator();
beforeAll(() => simulator.start());

function expectClose(got: number, wanted: number, what: string): void {
  const allowed = 1e-6 * Math.abs(wanted) + 1e-6;
  expect(Math.abs(got - wanted), `${what}: ours ${got}, simulator ${wanted}`).toBeLessThanOrEqual(allowed);
}

/** One node of every floating group holds the group to the simulator's ground. */
function leaksOf(solution: CircuitSolution): string[] {
  return solution.floating.map((group) => group[0] as string);
}

async function compare(circuit: Circuit, situation: Situation, solution: CircuitSolution) {
  const { instrument } = situation;
  const contacts = solution.contacts ?? {};
  const standing = {
    isOn: (name: string) => contacts[name] === true,
    conducts: (name: string) => solution.conducting.includes(name),
  };
  const isFloating = solution.reading?.floating === true || solution.reading?.open === true;
  const shown = isFloating ? { ...situation, instrument: undefined } : situation;
  const { text, node } = netlist(circuit, shown, standing, leaksOf(solution));
  const volts = await simulator.volts(text);
  for (const [name, ours] of Object.entries(solution.nodes ?? {})) {
    // The ohmmeter's ampere is only in the simulator's circuit.
    if (ours !== null && instrument?.kind !== 'ohmmeter') expectClose(ours, volts(node(name)), name);
  }
  const reading = solution.reading ?? {};
  if (instrument && instrument.kind !== 'ammeter' && !isFloating) {
    const theirs = volts(node(instrument.tip)) - volts(node(instrument.lead));
    const ours = instrument.kind === 'ohmmeter' ? reading.ohms : reading.volts;
    if (typeof ours === 'number') expectClose(ours, theirs, instrument.kind);
  }
  return (name: string) => volts(node(name));
}

/** Every contact and every diode agrees with its own voltage, as the simulator has it. */
function expectConsistent(
  circuit: Circuit,
  situation: Situation,
  solution: CircuitSolution,
  at: (name: string) => number,
) {
  const faulty = new Map((situation.faults ?? []).map(({ component, mode }) => [component, mode]));
  const gone = [
    ...(situation.removed ?? []),
    ...(situation.unplugged ?? []).flatMap((p) => circuit.plugs[p]?.parts ?? []),
  ];
  for (const c of circuit.components) {
    if (gone.includes(c.id)) continue;
    if (c.kind === 'relay') {
      const mode = faulty.get(c.id);
      const [a, b] = c.coil as [string, string];
      const v = Math.abs(at(a) - at(b));
      const isIn = solution.contacts?.[`${c.id}.pulled-in`];
      if (mode === 'coil-open' || mode === 'coil-shorted') expect(isIn).toBe(false);
      else if (isIn) expect(v).toBeGreaterThanOrEqual(Number(c.drop_out_v) - 1e-5);
      else expect(v).toBeLessThan(Number(c.pull_in_v) + 1e-5);
    }
    if (c.kind === 'diode' && !faulty.has(c.id)) {
      const [a, b] = c.ends as [string, string];
      const isOn = solution.conducting.includes(`${c.id}.body`);
      const isKnown = solution.nodes?.[a] !== null && solution.nodes?.[b] !== null;
      if (isOn) expect(at(a) - at(b)).toBeGreaterThanOrEqual(Number(c.drop_v) - 1e-5);
      else if (isKnown) expect(at(a) - at(b)).toBeLessThanOrEqual(Number(c.drop_v) + 1e-5);
    }
  }
}

describe.each([
  { name: 'loads and switches', relays: false, diodes: false },
  { name: 'relays', relays: true, diodes: false },
  { name: 'diodes', relays: false, diodes: true },
  { name: 'relays and diodes', relays: true, diodes: true },
])('random circuits: $name', (recipe) => {
  it(`agree with the simulator (seed ${SEED})`, async () => {
    const roll = dice(SEED + recipe.name.length);
    const counts = { solved: 0, chatter: 0, refused: 0, floating: 0 };
    for (let k = 0; k < CASES; k++) {
      const circuit = randomCircuit(roll, recipe);
      const situation = randomSituation(roll, circuit);
      let solution: CircuitSolution;
      try {
        solution = solveCircuit(circuit, situation);
      } catch (error) {
        if (!(error instanceof Problem) || error.code !== 'bad-probe') throw error;
        counts.refused++;
        continue;
      }
      if (solution.chatter) {
        counts.chatter++;
        continue;
      }
      try {
        const at = await compare(circuit, situation, solution);
        if (situation.instrument?.kind !== 'ohmmeter') expectConsistent(circuit, situation, solution, at);
      } catch (error) {
        console.log(`case ${k} of seed ${SEED}`, JSON.stringify({ circuit, situation, solution }));
        throw error;
      }
      counts.solved++;
      if (solution.floating.length > 0) counts.floating++;
    }
    console.log(`${recipe.name}, seed ${SEED}:`, JSON.stringify(counts));
    expect(counts.solved).toBeGreaterThan(CASES / 3);
  });
});

describe('relays stepped by the simulator alone', () => {
  it(`come to the same contacts or the same chatter (seed ${SEED})`, async () => {
    const roll = dice(SEED);
    let chatters = 0;
    for (let k = 0; k < CASES / 2; k++) {
      const circuit = randomCircuit(roll, { relays: true, diodes: false });
      const { instrument: _, ...situation } = randomSituation(roll, circuit);
      const ours = solveCircuit(circuit, situation);
      const theirs = await step(circuit, situation);
      expect(ours.chatter, JSON.stringify({ circuit, situation })).toBe(theirs === null);
      if (theirs === null) chatters++;
      else
        expect(
          Object.entries(ours.contacts ?? {})
            .filter(([, on]) => on)
            .map(([name]) => name)
            .sort(),
        ).toEqual(theirs);
    }
    console.log(`seed ${SEED}: ${chatters} of ${Math.floor(CASES / 2)} chatter`);
  });
});

/** Relays that end up pulled in, or null for chatter: released at first, all updated together. */
async function step(circuit: Circuit, situation: Situation): Promise<string[] | null> {
  const dead = new Set(
    (situation.faults ?? []).filter(({ mode }) => mode.startsWith('coil-')).map(({ component }) => component),
  );
  const gone = [
    ...(situation.removed ?? []),
    ...(situation.unplugged ?? []).flatMap((p) => circuit.plugs[p]?.parts ?? []),
  ];
  const relays = circuit.components.filter(
    (c) => c.kind === 'relay' && !dead.has(c.id) && !gone.includes(c.id),
  );
  const nodes = Object.keys(solveCircuit(circuit).nodes ?? {});
  const everyNode = [
    ...new Set([
      ...nodes,
      ...circuit.components.flatMap((c) =>
        [c.coil, c.contact, c.ends].flat().filter((n) => typeof n === 'string'),
      ),
    ]),
  ];
  let state = new Set<string>();
  const seen = new Set<string>();
  for (;;) {
    seen.add([...state].sort().join());
    const current = state;
    const { text, node } = netlist(
      circuit,
      situation,
      { isOn: (name) => current.has(name), conducts: () => false },
      everyNode.filter((name) => name !== circuit.ground),
    );
    const volts = await simulator.volts(text);
    const next = new Set<string>();
    for (const relay of relays) {
      const [a, b] = relay.coil as [string, string];
      const v = Math.abs(volts(node(a)) - volts(node(b)));
      const name = `${relay.id}.pulled-in`;
      if (v >= Number(state.has(name) ? relay.drop_out_v : relay.pull_in_v)) next.add(name);
    }
    const key = [...next].sort().join();
    if (key === [...state].sort().join()) return [...next].sort();
    if (seen.has(key)) return null;
    state = next;
  }
}
