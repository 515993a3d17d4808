import { Problem, type ProblemReport } from '../problem.ts';
import { assembleStance, type Bench, type Stance, takeStance } from './assemble.ts';
import type { Circuit } from './circuit-form.ts';
import { type CompiledCircuit, compileCircuit } from './compile-circuit.ts';
import { type Fault, parseFaults } from './faults.ts';
import { type Connected, connect, type Instrument, type Reading, readInstrument } from './instruments.ts';
import { PointFinder } from './operating-point.ts';

/** One measurement: the instrument, and how the machine stands while it is taken. */
export interface TableCheck extends Omit<Bench, 'faults'> {
  readonly instrument: Instrument;
}

export interface TableCell {
  /** Null with chatter, and where the instrument is refused under this fault. */
  readonly reading: Reading | null;
  readonly chatter: boolean;
  /** An ohmmeter on an island that this fault has made live. */
  readonly refused?: ProblemReport;
}

/**
 * What every check reads under every fault: rows in the order of `faults` (each a list of faults together; an
 * empty list is the healthy circuit), columns in the order of `checks`. Each cell equals the `reading` of
 * solveCircuit to rounding.
 *
 * The circuit is compiled once, each stance looked up once, each fault parsed once; a network is factored once
 * per fault, stance and state of its contacts, and every instrument is added to it as a rank-one change.
 *
 * Throws Problem as solveCircuit does for what is wrong whatever the fault; an ohmmeter that only some fault
 * puts on a live island is reported in its cell.
 */
export function readingTable(
  circuit: Circuit,
  faults: readonly (readonly Fault[])[],
  checks: readonly TableCheck[],
): TableCell[][] {
  const compiled = compileCircuit(circuit);
  const groups = groupByStance(compiled, checks);
  return faults.map((row) => {
    const parsed = parseFaults(compiled, row);
    const cells: TableCell[] = new Array(checks.length);
    for (const { stance, members } of groups) {
      const finder = new PointFinder(assembleStance(compiled, stance, parsed));
      for (const { column, connected } of members) cells[column] = readCell(finder, connected);
    }
    return cells;
  });
}

interface Group {
  readonly stance: Stance;
  readonly members: { column: number; connected: Connected }[];
}

/** Checks with the same controls, plugs, removed parts and bridge share their solved networks. */
function groupByStance(compiled: CompiledCircuit, checks: readonly TableCheck[]): Group[] {
  const groups = new Map<string, Group>();
  for (const [column, { instrument, ...bench }] of checks.entries()) {
    const { controls = {}, unplugged = [], removed = [], bridge = null } = bench;
    const key = JSON.stringify([
      Object.entries(controls).sort(([a], [b]) => (a < b ? -1 : 1)),
      [...unplugged].sort(),
      [...removed].sort(),
      bridge,
    ]);
    const group = groups.get(key) ?? { stance: takeStance(compiled, bench), members: [] };
    groups.set(key, group);
    // Where an instrument can be connected does not depend on the faults.
    const connected = connect(assembleStance(compiled, group.stance, new Map()), instrument);
    group.members.push({ column, connected });
  }
  return [...groups.values()];
}

function readCell(finder: PointFinder, connected: Connected): TableCell {
  try {
    const reading = readInstrument(finder, connected);
    // Without a refusal only chatter leaves an instrument without a reading.
    return { reading, chatter: reading === null };
  } catch (error) {
    if (!(error instanceof Problem) || error.code !== 'bad-probe') throw error;
    return { reading: null, chatter: false, refused: error.report() };
  }
}
