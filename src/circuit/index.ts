/** Front door of the circuit room: circuit + fault + instrument → readings, or a named refusal. See METHOD.md. */
export { type Bench, BRIDGE_OHM } from './assemble.ts';
export {
  type Circuit,
  type Component,
  type Control,
  MOST_COMPONENTS,
  type Plug,
  type Point,
} from './circuit-form.ts';
export * from './drawing/index.ts';
export {
  type Fault,
  type FaultModeInfo,
  faultModesOf,
  type ListedFault,
  listFaults,
  listKinds,
} from './faults.ts';
export {
  type Instrument,
  type Reading,
  TEST_LAMP_OHM,
  TEST_LAMP_V,
  VOLTMETER_OHM,
} from './instruments.ts';
export type { Terminal } from './kind.ts';
export { type Noticed, type NoticedSign, noticed } from './noticed.ts';
export { readCircuit } from './read-circuit.ts';
export { readingTable, type TableCell, type TableCheck } from './reading-table.ts';
export { lampWord, type Sign, type SignKind, type SignWord } from './signs.ts';
export { type CircuitSolution, type Overload, type SolveOptions, solveCircuit } from './solve-circuit.ts';
export { nodesOf, terminalsOf } from './terminals.ts';
