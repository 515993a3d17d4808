/**
 * Which valves (diodes) are not where their own voltage wants them.
 *
 * Inside one island the voltage across a valve is known: it turns on above its drop and off below it. Between
 * islands only differences are bounded: an off valve from island P to island Q allows
 * x(Q) ≥ x(P) + (v_anode − v_cathode − drop), x being the unknown offsets of the islands. These bounds can all be
 * kept exactly when no loop of off valves has a positive sum. A loop that has one must conduct: two diodes in
 * series with nothing else at their joint, or a rectifier fed from a winding that touches ground nowhere.
 */
import type { Branch } from './compile-circuit.ts';

/** Volts a valve may be on the wrong side of its drop before it switches: far above rounding, far below a meter. */
export const VALVE_TOLERANCE_V = 1e-10;

export function misplacedValves(
  valves: readonly Branch[],
  isOn: Uint8Array,
  volts: readonly number[],
  island: readonly number[],
): number[] {
  const misplaced: number[] = [];
  let across: Branch[] | undefined;
  for (const valve of valves) {
    const excess = excessOf(valve, volts);
    if (isOn[valve.valve] === 1) {
      if (excess < -VALVE_TOLERANCE_V) misplaced.push(valve.valve);
    } else if (islandOf(valve.from, island) === islandOf(valve.to, island)) {
      if (excess > VALVE_TOLERANCE_V) misplaced.push(valve.valve);
    } else {
      across ??= [];
      across.push(valve);
    }
  }
  if (across && across.length > 1) misplaced.push(...loopsThatConduct(across, volts, island));
  return misplaced;
}

function excessOf(valve: Branch, volts: readonly number[]): number {
  return voltsAt(volts, valve.from) - voltsAt(volts, valve.to) - valve.emf_v;
}

function islandOf(node: number, island: readonly number[]): number {
  return node < 0 ? 0 : (island[node] as number);
}

function voltsAt(volts: readonly number[], node: number): number {
  return node < 0 ? 0 : (volts[node] as number);
}

/** All valves on positive loops, loop after loop (longest paths, Bellman and Ford). */
function loopsThatConduct(
  valves: readonly Branch[],
  volts: readonly number[],
  island: readonly number[],
): number[] {
  const turnOn: number[] = [];
  let left = valves.map((valve) => ({
    valve: valve.valve,
    from: islandOf(valve.from, island),
    to: islandOf(valve.to, island),
    weight: excessOf(valve, volts),
  }));
  for (;;) {
    const loop = positiveLoop(left);
    if (loop.length === 0) return turnOn;
    turnOn.push(...loop);
    left = left.filter(({ valve }) => !loop.includes(valve));
  }
}

interface Edge {
  readonly valve: number;
  readonly from: number;
  readonly to: number;
  readonly weight: number;
}

function positiveLoop(edges: readonly Edge[]): number[] {
  const islands = [...new Set(edges.flatMap(({ from, to }) => [from, to]))];
  const reach = new Map(islands.map((name) => [name, 0]));
  const through = new Map<number, Edge>();
  let last: number | undefined;
  for (let round = 0; round <= islands.length; round++) {
    last = undefined;
    for (const edge of edges) {
      const far = (reach.get(edge.from) ?? 0) + edge.weight;
      if (far > (reach.get(edge.to) ?? 0) + VALVE_TOLERANCE_V) {
        reach.set(edge.to, far);
        through.set(edge.to, edge);
        last = edge.to;
      }
    }
    if (last === undefined) return [];
  }
  // Still rising after as many rounds as there are islands: walk back until the walk closes.
  let at = last as number;
  for (let k = 0; k < islands.length; k++) at = through.get(at)?.from ?? at;
  const loop: number[] = [];
  const start = at;
  do {
    const edge = through.get(at);
    if (!edge) return [];
    loop.push(edge.valve);
    at = edge.from;
  } while (at !== start);
  return loop;
}
